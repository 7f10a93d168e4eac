package main

import (
	"github.com/spf13/cobra"

	"yearmark/site/guide"
)

// guideTopics are the pages of the guide: "yearmark help records".
func guideTopics() []*cobra.Command {
	list := make([]*cobra.Command, len(guide.Topics))
	for i, topic := range guide.Topics {
		list[i] = &cobra.Command{Use: topic.Name, Short: topic.About, Long: topic.Text}
	}
	return list
}
