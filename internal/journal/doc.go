// Package journal holds what a spinner records: projects, fibre lots, bobbins,
// samples, photographs, readings and targets, runs of plying and the skeins that
// come of them, with the rules they obey. How they are kept is the affair of a
// Store.
//
// Nothing recorded is overwritten. A reading that turns out wrong is superseded
// by a better one or struck with a reason; both stay. A skein that is measured
// or hung again has a later measure or hang test beside the former.
package journal
