package yarn

// ContactRadiusOnCore returns R/(d/2) of n (2 to 7) strands round a straight
// core strand on the axis, whose diameter is coreRatio times theirs: the larger
// of ContactRadius and 1 + coreRatio. Up to a coreRatio of ContactRadius - 1 the
// core fits into the hollow of the ring and changes nothing; 0 is no core. A core
// meets the strands at R at any angle, because every point of a helix is R from
// its axis. It panics when n is out of range or coreRatio below zero.
func ContactRadiusOnCore(n int, b CentreAngle, coreRatio float64) float64 {
	if !(coreRatio >= 0) {
		panic("yarn: core of negative thickness")
	}
	return max(ContactRadius(n, b), 1+coreRatio)
}
