package axlefile

import (
	"bytes"
	"fmt"

	"github.com/pelletier/go-toml/v2/unstable"
)

// The bounds of what is decoded. The decoder's work grows with the square of the
// depth of a key, so a text is measured first, by the parser whose work does not.
const (
	deepestKey  = 16   // names in a row, through dots, headers and braces: twice any axle file's
	longestSlip = 4096 // bytes of a line that is shown to the decoder although the measuring parser refuses it
)

// decodable returns the part of a text that may be decoded: all of it, or up to
// the line that is not TOML. The error tells of a key that is nested too deeply, or of a line that
// is refused and too long to be looked at again.
func (p *placer) decodable() ([]byte, *placeError) {
	body := p.start()
	header := 0
	for p.parser.NextExpression() {
		node := p.parser.Expression()
		depth := p.depth(node)
		if node.Kind == unstable.KeyValue {
			depth += header
		} else {
			header = depth
		}
		if depth > deepestKey {
			return nil, &placeError{offset: p.skip + keyStart(node), message: fmt.Sprintf("a key of %d names is nested too deeply; at most %d can follow each other", depth, deepestKey)}
		}
	}
	err := p.failure(body)
	if err == nil {
		return p.text, nil
	}
	start := bytes.LastIndexByte(p.text[:err.offset], '\n') + 1
	end := p.nextLine(err.offset)
	if end-start > longestSlip {
		return nil, err
	}
	return p.text[:end], nil
}

// keyStart is where the key of an expression begins, in bytes of the parser's text.
func keyStart(node *unstable.Node) int {
	keys := node.Key()
	keys.Next()
	return int(keys.Node().Raw.Offset)
}

// start readies the parser for the text behind a byte-order mark, and returns that.
func (p *placer) start() []byte {
	body := p.text
	if bytes.HasPrefix(body, []byte("\xef\xbb\xbf")) {
		p.skip = 3
		body = body[3:]
	}
	body = body[:len(body):len(body)]
	p.parser.Reset(body)
	return body
}

// depth is how many names lead to the deepest value of an expression.
func (p *placer) depth(node *unstable.Node) int {
	deepest := 0
	switch node.Kind {
	case unstable.Table, unstable.ArrayTable, unstable.KeyValue:
		if node.Kind == unstable.KeyValue {
			deepest = p.depth(node.Value())
		}
		for keys := node.Key(); keys.Next(); {
			deepest++
		}
	case unstable.InlineTable, unstable.Array:
		for children := node.Children(); children.Next(); {
			deepest = max(deepest, p.depth(children.Node()))
		}
		if node.Kind == unstable.Array {
			deepest++
		}
	}
	return deepest
}
