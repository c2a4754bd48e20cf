// Package plan reckons the chain from a cloth to its yarn, the singles, the
// fibre, the bobbins and the hours, in whichever direction is asked: back from
// what is wanted, forwards from what is in hand, or from the middle.
//
// A Wish fixes any quantities of the chain and leaves the others free. Relations
// tie the quantities together, and each gives any one of its own from the rest;
// what no relation gives is decided in an order: what the trade takes, then what
// is in hand. A relation that gave nothing is a check, and where it does not hold
// the wishes contradict each other; each is then let go in turn, to say what it
// would become.
//
// Every quantity is a fixed value or a range. Ranges go through draws together,
// so that a total has a 90 % interval and not the sum of all worst cases, and the
// answer says which assumptions make it wide.
package plan
