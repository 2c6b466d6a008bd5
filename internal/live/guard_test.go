package live

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"gapline/internal/designfile"
)

// serve serves a built-in design until the test ends.
func serve(t testing.TB, starter string) *Server {
	t.Helper()
	text, err := designfile.StarterText(starter)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	s, err := New(ctx, Options{Text: text})
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- s.Serve() }()
	t.Cleanup(func() {
		stop()
		select {
		case err := <-ended:
			if err != nil {
				t.Error(err)
			}
		case <-time.After(5 * time.Second):
			t.Error("the server does not end")
		}
	})
	return s
}

// answerTo posts a question and reads the answer.
func answerTo(t testing.TB, s *Server, path string, question, answer any) {
	t.Helper()
	body, err := json.Marshal(question)
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.Post(s.Address()+path, "application/json", bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	data, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	if r.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s: %s", path, r.Status, data)
	}
	if err := json.Unmarshal(data, answer); err != nil {
		t.Fatalf("%s: %v in %.300s", path, err, data)
	}
}

// textOf asks for the text that a page would speak of.
func textID(t testing.TB, s *Server) string {
	t.Helper()
	var a struct{ Text string }
	answerTo(t, s, "start", struct{}{}, &a)
	return a.Text
}

// Who may ask what: the statuses are those of RFC 9110; a Host that is not the server's own is
// how DNS rebinding comes in, Sec-Fetch-Site and Origin are how a browser says which site asks
// (W3C Fetch Metadata; Fetch standard).
func TestGuard(t *testing.T) {
	s := serve(t, "hatch")
	own := "127.0.0.1:" + s.port
	page, start := "/"+s.token+"/", "/"+s.token+"/start"
	header := func(pairs ...string) http.Header {
		h := http.Header{"Content-Type": {"application/json"}}
		for i := 0; i < len(pairs); i += 2 {
			h.Set(pairs[i], pairs[i+1])
		}
		return h
	}
	for _, c := range []struct {
		name, method, host, path string
		header                   http.Header
		want                     int
	}{
		{"page", "GET", own, page, nil, 200},
		{"page by name", "GET", "localhost:" + s.port, page, nil, 200},
		{"page typed into the browser", "GET", own, page, header("Sec-Fetch-Site", "none"), 200},
		{"page's own question", "POST", own, start, header("Sec-Fetch-Site", "same-origin", "Origin", "http://"+own), 200},
		{"foreign name", "GET", "example.org:" + s.port, page, nil, 421},
		{"foreign name, no port", "GET", "example.org", page, nil, 421},
		{"other port", "GET", "127.0.0.1:1", page, nil, 421},
		{"other address", "GET", "192.0.2.1:" + s.port, page, nil, 421},
		{"other site", "POST", own, start, header("Sec-Fetch-Site", "cross-site"), 403},
		{"link on another site", "GET", own, page, header("Sec-Fetch-Site", "cross-site"), 403},
		{"same site, other port", "POST", own, start, header("Sec-Fetch-Site", "same-site"), 403},
		{"other origin", "POST", own, start, header("Origin", "http://example.org"), 403},
		{"no origin", "POST", own, start, header("Origin", "null"), 403},
		{"no token", "GET", own, "/", nil, 404},
		{"wrong token", "GET", own, "/" + strings.Repeat("0", 32) + "/", nil, 404},
		{"token cut short", "POST", own, "/" + s.token[:31] + "/start", header(), 404},
		{"a form", "POST", own, start, header("Content-Type", "text/plain"), 415},
		{"out of the folder", "GET", own, page + "../server.go", nil, 307}, // to the cleaned path, which has no token
		{"no such file", "GET", own, page + "other.js", nil, 404},
		{"other method", "PUT", own, start, header(), 405},
	} {
		r, err := http.NewRequest(c.method, "http://"+own+c.path, strings.NewReader("{}"))
		if err != nil {
			t.Fatal(err)
		}
		r.Host, r.Header = c.host, c.header
		if r.Header == nil {
			r.Header = http.Header{}
		}
		a, err := http.DefaultTransport.RoundTrip(r)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		a.Body.Close()
		if a.StatusCode != c.want {
			t.Errorf("%s: %d, want %d", c.name, a.StatusCode, c.want)
		}
		for name, want := range map[string]string{"Content-Security-Policy": policy, "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer"} {
			if got := a.Header.Get(name); got != want {
				t.Errorf("%s: %s is %q", c.name, name, got)
			}
		}
		if got := a.Header.Get("Cache-Control"); c.want == 200 && got != "no-store" {
			t.Errorf("%s: Cache-Control is %q", c.name, got)
		}
	}
}

// The socket listens on the loopback address only.
func TestLoopbackOnly(t *testing.T) {
	s := serve(t, "hatch")
	if ip := s.listener.Addr().(*net.TCPAddr).IP; !ip.IsLoopback() {
		t.Errorf("listens on %v", ip)
	}
}

// What is too large or no question is refused with a message, and the server goes on.
func TestBadQuestions(t *testing.T) {
	s := serve(t, "hatch")
	id := textID(t, s)
	many := strings.Repeat(`"a=1",`, mostSettings)
	for _, c := range []struct {
		body string
		want int
	}{
		{"", 400}, {"{", 400}, {"[]", 400}, {`{"set":1}`, 400}, {`{"other":1}`, 400}, {`{} {}`, 400},
		{`{"text":"` + id + `","set":[` + many + `"a=1"]}`, 400},
		{`{"text":"` + id + `","set":["` + strings.Repeat("x", mostLetters+1) + `"]}`, 400},
		{`{"text":"` + id + `","keep":[{},{},{},{},{}]}`, 400},
		{`{"text":"none"}`, 409},
		{`{"set":["` + strings.Repeat("x", maxBody) + `"]}`, 413},
	} {
		r, err := http.Post(s.Address()+"state", "application/json", strings.NewReader(c.body))
		if err != nil {
			t.Fatal(err)
		}
		var a struct{ Faults []string }
		err = json.NewDecoder(r.Body).Decode(&a)
		r.Body.Close()
		if r.StatusCode != c.want || err != nil || len(a.Faults) == 0 || strings.ContainsAny(a.Faults[0], "\n\x1b") {
			t.Errorf("%.60s: %d, %v, %q; want %d and a message", c.body, r.StatusCode, err, a.Faults, c.want)
		}
	}
	textID(t, s)
}

// A question that comes a byte now and then does not keep others waiting, and is cut off.
func TestSlowQuestion(t *testing.T) {
	s := serve(t, "hatch")
	c, err := net.Dial("tcp", "127.0.0.1:"+s.port)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	c.Write([]byte("POST /" + s.token + "/state HTTP/1.1\r\nHost: 127.0.0.1:" + s.port + "\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{"))
	begun := time.Now()
	textID(t, s)
	if waited := time.Since(begun); waited > readTime/2 {
		t.Errorf("another question waited %v", waited)
	}
}
