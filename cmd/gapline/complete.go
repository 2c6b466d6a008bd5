package main

import (
	"slices"
	"strings"

	"gapline/internal/designfile"
	"gapline/internal/schema"

	"github.com/spf13/cobra"
)

// completeDesignFiles completes file names that end in .toml.
func completeDesignFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
}

// startingWith keeps the candidates that start with what is typed.
func startingWith(typed string, candidates []string) []string {
	return slices.DeleteFunc(candidates, func(c string) bool { return !strings.HasPrefix(c, typed) })
}

func completeStarters(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for _, s := range designfile.Starters {
		out = append(out, s.Name+"\t"+s.Doc)
	}
	return startingWith(typed, out), cobra.ShellCompDirectiveNoFileComp
}

// completeSetting completes KEY= for --set, and the words of a choice behind it.
func completeSetting(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	return completeKeys(typed, func(*schema.Key) bool { return true })
}

// completeVary completes KEY= for --vary.
func completeVary(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	return completeKeys(typed, func(k *schema.Key) bool { return k.Numeric() || k.Type == schema.Choice })
}

func completeKeys(typed string, wanted func(*schema.Key) bool) ([]string, cobra.ShellCompDirective) {
	const directive = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	var out []string
	if path, _, hasValue := strings.Cut(typed, "="); hasValue {
		if k := schema.FindKey(path); k != nil {
			for _, c := range k.Choices {
				out = append(out, path+"="+c)
			}
		}
		return startingWith(typed, out), directive
	}
	for i := range schema.Keys {
		if k := &schema.Keys[i]; wanted(k) {
			out = append(out, k.Path+"=\t"+k.Doc)
		}
	}
	return startingWith(typed, out), directive
}

func completeExplain(cmd *cobra.Command, given []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(given) > 0 {
		return completeDesignFiles(cmd, given[1:], typed)
	}
	names := explainable()
	for _, term := range termNames() {
		names = append(names, strings.ReplaceAll(term, " ", "-")) // one word for the shell
	}
	return startingWith(typed, names), cobra.ShellCompDirectiveNoFileComp
}
