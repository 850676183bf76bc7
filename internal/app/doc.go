// Package app holds what a person can ask for, one file each: bring a list in,
// ask what fits, find, look at lists. It owns transactions and the order of
// effects; the book and the index stand behind the ports declared here.
package app
