package picture

import (
	"crypto/sha256"
	"encoding/hex"
	"regexp"
)

// Hash names a kept photograph: the SHA-256 of its stripped bytes, in 64
// lower-case hexadecimal digits. Use ParseHash for one from outside.
type Hash string

var hashPattern = regexp.MustCompile(`^[0-9a-f]{64}$`)

// ParseHash checks that s has the form of a Hash and so cannot lead a path out
// of the store's folder. The *Error is that of a photograph not kept.
func ParseHash(s string) (Hash, error) {
	if !hashPattern.MatchString(s) {
		return "", notKept(nil)
	}
	return Hash(s), nil
}

func hashOf(data []byte) Hash {
	sum := sha256.Sum256(data)
	return Hash(hex.EncodeToString(sum[:]))
}
