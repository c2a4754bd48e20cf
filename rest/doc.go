// Package rest deals with twist that has gone dormant while singles rested on
// the bobbin, and with what water wakes.
//
// A spinner clips a length, folds it back on itself so that it plies up (a
// ply-back), and reads its angle dry; soaked in cool water for 20 to 30 minutes
// the same singles show their true twist. From such readings Wake says what a
// balanced ply will show, and how dormant the singles are.
//
// Angles are carried as the logarithm of their tangent: at equal diameter that
// is the logarithm of the turns, in which readings, places along a bobbin and
// the steps of the wash all add up.
package rest
