package edtf

// advise completes a fault with the text and with what may have been meant.
func advise(text string, f *SyntaxError) *SyntaxError {
	f.Text = text
	return f
}
