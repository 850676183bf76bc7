// Package acceptance holds the acceptance cases, by number, asked of the whole
// program: sheets in, answers out.
package acceptance
