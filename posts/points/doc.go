// Package points reads tables of points as plain text.
package points
