package schema

import (
	"fmt"
	"strings"
)

// DidYouMean returns " (did you mean KEY?)" for a path that is nearly a key, and
// else, when its table exists, ": [table] takes …".
func DidYouMean(path string) string {
	accepted := ""
	if table, leaf, dotted := strings.Cut(path, "."); dotted && leaf != "" {
		if leaves := leavesOf(table); len(leaves) > 0 {
			accepted = fmt.Sprintf("[%s] takes %s", table, strings.Join(leaves, ", "))
		}
	}
	return Suggest(nearestKey(path), accepted)
}

// Suggest suggests the near word, such as Nearest found, or says what is accepted when there is
// none.
func Suggest(near, accepted string) string {
	switch {
	case near != "":
		return fmt.Sprintf(" (did you mean %s?)", near)
	case accepted != "":
		return ": " + accepted
	}
	return ""
}

// Nearest returns the candidate most like word, or "" when none is near: a third
// of the letters may be wrong, in a longer word at least two.
func Nearest(word string, candidates []string) string {
	if len(word) > maxEdit {
		return ""
	}
	most := len(word) / 3
	if len(word) > 3 {
		most = max(most, 2)
	}
	best, bestDistance := "", most+1
	for _, c := range candidates {
		if d := editDistance(strings.ToLower(word), strings.ToLower(c)); d < bestDistance {
			best, bestDistance = c, d
		}
	}
	return best
}

// nearestKey finds the key most like path: the same name in another table, a
// like name in the same table, or a like path.
func nearestKey(path string) string {
	var paths []string
	for i := range Keys {
		paths = append(paths, Keys[i].Path)
	}
	table, leaf, dotted := strings.Cut(path, ".")
	if !dotted {
		table, leaf = "", path
	}
	for _, p := range paths {
		if p[strings.LastIndexByte(p, '.')+1:] == leaf {
			return p
		}
	}
	if leaves := leavesOf(table); len(leaves) > 0 {
		if near := Nearest(leaf, leaves); near != "" {
			return table + "." + near
		}
		return ""
	}
	return Nearest(path, paths)
}

// maxEdit bounds the words compared; longer ones are nobody's typing error.
const maxEdit = 80

// editDistance is the Levenshtein distance with neighbouring swaps counted
// once.
func editDistance(a, b string) int {
	if len(a) > maxEdit || len(b) > maxEdit {
		return maxEdit
	}
	var rows [3][maxEdit + 1]int
	for j := range len(b) + 1 {
		rows[1][j] = j
	}
	for i := 1; i <= len(a); i++ {
		older, old, now := &rows[(i+2)%3], &rows[i%3], &rows[(i+1)%3]
		now[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			now[j] = min(old[j]+1, now[j-1]+1, old[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], older[j-2]+1)
			}
		}
	}
	return rows[(len(a)+1)%3][len(b)]
}
