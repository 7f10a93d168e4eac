package prose

import (
	"net/url"
	"strings"
)

// ours are the kinds that an address of ours can begin with.
var ours = map[string]bool{
	"source": true, "claim": true, "model": true, "maker": true, "feature": true, "page": true, "example": true,
}

// splitOurs takes "model:dunlin" apart. The schemes are ours alone, so they
// are matched to the letter.
func splitOurs(address string) (kind, id string, ok bool) {
	kind, id, found := strings.Cut(address, ":")
	if !found || !ours[kind] {
		return "", "", false
	}
	if plain, err := url.PathUnescape(id); err == nil {
		id = plain
	}
	return kind, id, id != ""
}

// Outside says whether an address leads out of the site in a way that a page
// may follow: http, https or mailto, written out in full.
func Outside(address string) bool {
	u, err := url.Parse(address)
	if err != nil {
		return false
	}
	switch strings.ToLower(u.Scheme) {
	case "http", "https":
		return u.Host != ""
	case "mailto":
		return strings.Contains(u.Opaque, "@")
	}
	return false
}

// pictureBelow gives the path below the folder pictures that a Markdown image
// names: "pictures/marks/oval.svg", or the same path seen from a record's own
// folder, "../pictures/marks/oval.svg".
func pictureBelow(address string) (string, bool) {
	address = strings.TrimPrefix(address, "../")
	below, ok := strings.CutPrefix(address, "pictures/")
	return below, ok && !strings.Contains(below, "..") && !strings.ContainsAny(below, ":\\")
}
