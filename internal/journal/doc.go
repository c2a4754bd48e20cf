// Package journal holds what a spinner records: projects, fibre lots, bobbins,
// samples, photographs, readings and targets, with the rules they obey. How they
// are kept is the affair of a Store.
//
// Nothing recorded is overwritten. A reading that turns out wrong is superseded
// by a better one or struck with a reason; both stay.
package journal
