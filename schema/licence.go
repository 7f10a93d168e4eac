package schema

// licences are the addresses of licences that people name by SPDX.
var licences = map[string]string{
	"CC0-1.0": "https://creativecommons.org/publicdomain/zero/1.0/", "CC-BY-4.0": "https://creativecommons.org/licenses/by/4.0/",
	"CC-BY-SA-4.0": "https://creativecommons.org/licenses/by-sa/4.0/", "CC-BY-NC-4.0": "https://creativecommons.org/licenses/by-nc/4.0/",
	"CC-BY-NC-SA-4.0": "https://creativecommons.org/licenses/by-nc-sa/4.0/", "CC-BY-ND-4.0": "https://creativecommons.org/licenses/by-nd/4.0/",
}

// LicenceAddress is the address of the licence of that SPDX identifier, or ""
// of those that it does not know.
func LicenceAddress(name string) string { return licences[name] }
