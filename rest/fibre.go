package rest

import "regexp"

var (
	plantFibre   = regexp.MustCompile(`(?i)flax|linen|hemp|jute|ramie|nettle`)
	elasticFibre = regexp.MustCompile(`(?i)elastane|spandex|elastic|rubber`)
)

// TwistsByItself reports whether a fibre, by its name, turns of its own when
// water reaches or leaves it (P. W. Allen, Industrial Fermentations, 1926, on
// flax and hemp).
func TwistsByItself(fibre string) bool { return plantFibre.MatchString(fibre) }

// OutsideModel reports whether a fibre, by its name, is outside the model's range:
// it turns by itself when wetted, or it is elastic, so that its length, thickness
// and angle hang on the load.
func OutsideModel(fibre string) bool {
	return TwistsByItself(fibre) || elasticFibre.MatchString(fibre)
}
