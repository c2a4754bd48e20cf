package rest

import "regexp"

var plantFibre = regexp.MustCompile(`(?i)flax|linen|hemp|jute|ramie|nettle`)

// TwistsByItself reports whether a fibre, by its name, turns of its own when
// water reaches or leaves it, which puts it out of the model's range (P. W.
// Allen, Industrial Fermentations, 1926, on flax and hemp).
func TwistsByItself(fibre string) bool { return plantFibre.MatchString(fibre) }
