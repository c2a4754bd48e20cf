// Package hand learns a spinner: how stiff the wool is, how it falls asleep on
// the bobbin, what the wash does, how well an angle is read, and how evenly the
// yarn is spun.
//
// One hierarchical model holds all of it. What is shared by everything this
// hand spins stands at the top, fibres depart from that by as much as their own
// readings say (partial pooling), bobbins from their fibre, places from their
// bobbin. Fit finds the most likely values of all parameters together, and
// takes the posterior as normal around them (Laplace's method; Gelman et al.,
// Bayesian Data Analysis, 3rd ed., section 13.3). Each parameter is counted in
// standard deviations of its own prior, so that nothing known is zero with
// spread one.
//
// A reading's error has the heavy tails of Student's t, so a slip of the pen
// loses its pull (Lange, Little and Taylor, J. Amer. Statist. Assoc. 84 (1989)
// 881). All answers of this package rest on the model and say so.
package hand
