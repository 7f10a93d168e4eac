// Package edtf reads dates written in EDTF (ISO 8601-2:2019) as whole years.
package edtf
