// Package yarn holds the geometry and mechanics of singles and plied yarn.
//
// Strands are taken as round elastic rods that touch, alike except in BalanceOf,
// Forced and Cabled. The letters in comments are those of the field: a the
// surface angle of the singles, b the helix angle of a strand's centre line in
// the ply (both to the axis), d the strand's diameter, R the radius of the
// strand's centre line, n the number of strands, u the turns per metre of strand,
// U the turns per metre of ply, B the bending and C the torsional stiffness of a
// strand, k = B/C, and t = tau d/2 the living twist (tau in radians per metre).
//
// Angles of different lines and turns per different lengths are different
// types, so that they cannot be mixed by mistake.
package yarn
