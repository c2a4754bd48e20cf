// Package plan reckons backwards from what is wanted: from a cloth to its yarn,
// the singles, the fibre, the bobbins and the hours; and forwards from the fibre
// in hand to the yarn and the cloth that it makes.
//
// Every link is a fixed value or a range. Ranges go through draws together, so
// that a total has a 90 % interval and not the sum of all worst cases, and the
// answer says which assumptions make it wide.
package plan
