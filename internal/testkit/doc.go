// Package testkit holds what tests of several packages share: a shop on a real
// book, the suites that any book and any index must pass, faults, and the made
// world.
package testkit
