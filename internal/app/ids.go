package app

import (
	"crypto/rand"
	"encoding/hex"
)

// randomHex gives n random bytes as hex; the system's source never fails.
func randomHex(n int) string {
	b := make([]byte, n)
	rand.Read(b)
	return hex.EncodeToString(b)
}
