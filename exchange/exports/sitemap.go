package exports

import (
	"encoding/xml"
	"fmt"
	"io"
	"net/url"
	"slices"
	"strings"
)

// maxAddresses is how many addresses one sitemap may hold (sitemaps.org, 0.9).
const maxAddresses = 50_000

const sitemapNS = "http://www.sitemaps.org/schemas/sitemap/0.9"

// sitemapEntries is the sitemap, or where there are too many pages for one an
// index and its parts. Without a public address there is none.
func (f Facts) sitemapEntries() []Entry {
	if f.base() == "" {
		return nil
	}
	pages := f.pages()
	const about = "Every page, for search engines."
	if len(pages) <= maxAddresses {
		return []Entry{{"sitemap.xml", about, func(w io.Writer) error { return f.writeSitemap(w, "urlset", "url", pages) }}}
	}
	var parts []string
	entries := []Entry{{"sitemap.xml", about, func(w io.Writer) error { return f.writeSitemap(w, "sitemapindex", "sitemap", parts) }}}
	for part := range slices.Chunk(pages, maxAddresses) {
		name := fmt.Sprintf("sitemap-%d.xml", len(parts)+1)
		parts = append(parts, name)
		entries = append(entries, Entry{name, about, func(w io.Writer) error { return f.writeSitemap(w, "urlset", "url", part) }})
	}
	return entries
}

// pages lists the pages of the site, or those of the records.
func (f Facts) pages() []string {
	var pages []string
	for _, p := range f.Pages {
		if strings.HasSuffix(p, ".html") {
			pages = append(pages, p)
		}
	}
	if f.Pages == nil {
		pages = append(pages, "index.html")
		for _, r := range f.Ref.Records() {
			pages = append(pages, r.Address())
		}
	}
	slices.Sort(pages)
	return slices.Compact(pages)
}

func (f Facts) writeSitemap(w io.Writer, root, item string, pages []string) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s<%s xmlns=\"%s\">\n", xml.Header, root, sitemapNS)
	for _, p := range pages {
		fmt.Fprintf(&b, " <%s><loc>", item)
		_ = xml.EscapeText(&b, []byte(f.base()+(&url.URL{Path: p}).EscapedPath()))
		fmt.Fprintf(&b, "</loc></%s>\n", item)
	}
	fmt.Fprintf(&b, "</%s>\n", root)
	_, err := io.WriteString(w, b.String())
	return err
}
