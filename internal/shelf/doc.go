// Package shelf holds the rules of the stock ledger: movements are only ever
// added, and on hand, held and free are sums over them by part, bin and
// condition.
package shelf
