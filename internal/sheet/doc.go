// Package sheet prints a plan on paper: a PDF of A4 or US Letter sheets to hang
// beside wheel and loom, with lines on which what is measured is written down.
//
// The first page is what hands need: the settings of the wheel, the loom, what to
// have and to do. The chain from cloth to fibre, and what it rests on, follow.
// Equal plans of one moment give equal bytes.
package sheet
