package live

import (
	"context"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"

	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/study/stored"
)

//go:embed page
var pages embed.FS

// Options say what is served.
type Options struct {
	File     string   // of the design; empty: Text is a built-in one
	Text     []byte   // of the built-in design
	Settings []string // under those of the page
	Units    quantity.System
	Port     int // 0: any that is free
}

// Server serves one design.
type Server struct {
	o           Options
	listener    net.Listener
	port, token string
	ctx         context.Context // ends with the server
	end         context.CancelFunc
	runs        *stored.Runs
	states      chan struct{} // room for one request each
	studies     chan struct{}

	mu    sync.Mutex
	texts []text // of the file as pages were given it, the latest last
}

// text is the design file at one time.
type text struct {
	id   string
	data []byte
}

// New reads the design and binds a port of the loopback address. The error is of type
// designfile.Problems where the file is at fault.
func New(ctx context.Context, o Options) (*Server, error) {
	s := &Server{o: o, token: newToken(), runs: stored.NewRuns(o.File), states: make(chan struct{}, mostStates), studies: make(chan struct{}, mostStudies)}
	t, err := s.reread(ctx)
	if err != nil {
		return nil, err
	}
	if _, err := designfile.Read(ctx, o.name(), t.data, o.Settings); err != nil {
		return nil, err
	}
	s.listener, err = net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(o.Port)))
	if err != nil {
		return nil, fmt.Errorf("port %d of this machine cannot be had: %w", o.Port, cause(err))
	}
	s.port = strconv.Itoa(s.listener.Addr().(*net.TCPAddr).Port)
	s.ctx, s.end = context.WithCancel(ctx)
	return s, nil
}

// cause is what the system says, without addresses.
func cause(err error) error {
	var op *net.OpError
	if errors.As(err, &op) {
		return op.Err
	}
	return err
}

// name is the design's file in messages.
func (o *Options) name() string {
	if o.File == "" {
		return "starter"
	}
	return o.File
}

// Address is where the page is.
func (s *Server) Address() string { return "http://127.0.0.1:" + s.port + "/" + s.token + "/" }

// Serve answers until the context ends or the page asks to end.
func (s *Server) Serve() error {
	defer s.end()
	h := &http.Server{Handler: s.guard(s.routes()), ReadHeaderTimeout: headerTime, ReadTimeout: readTime, IdleTimeout: idleTime, MaxHeaderBytes: maxHeader,
		BaseContext: func(net.Listener) context.Context { return s.ctx }, ErrorLog: silent()}
	closed := make(chan struct{})
	stop := context.AfterFunc(s.ctx, func() {
		defer close(closed)
		// Answers that are being sent have a moment to end.
		last, cancel := context.WithTimeout(context.WithoutCancel(s.ctx), 200*time.Millisecond)
		defer cancel()
		if h.Shutdown(last) != nil {
			h.Close()
		}
	})
	defer stop()
	if err := h.Serve(s.listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	<-closed // answers have been sent
	return nil
}

// reread reads the file and keeps its text for the page that is given it.
func (s *Server) reread(ctx context.Context) (text, error) {
	data := s.o.Text
	if s.o.File != "" {
		var err error
		if data, err = designfile.Text(ctx, s.o.File); err != nil {
			return text{}, err
		}
	}
	sum := sha256.Sum256(data)
	t := text{id: hex.EncodeToString(sum[:8]), data: data}
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, old := range s.texts {
		if old.id == t.id {
			return old, nil
		}
	}
	if s.texts = append(s.texts, t); len(s.texts) > mostTexts {
		s.texts = s.texts[1:]
	}
	return t, nil
}

// textOf is a text that a page was given.
func (s *Server) textOf(id string) ([]byte, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, t := range s.texts {
		if t.id == id {
			return t.data, true
		}
	}
	return nil, false
}

func (s *Server) routes() http.Handler {
	mux := http.NewServeMux()
	files, err := fs.Sub(pages, "page")
	if err != nil {
		panic(err) // the folder is part of the program
	}
	mux.Handle("GET /", http.FileServerFS(files))
	mux.HandleFunc("POST /start", s.start)
	mux.HandleFunc("POST /state", s.state)
	mux.HandleFunc("POST /study", s.study)
	mux.HandleFunc("POST /sound", s.sound)
	mux.HandleFunc("POST /file", s.file)
	mux.HandleFunc("POST /end", func(w http.ResponseWriter, _ *http.Request) {
		w.WriteHeader(http.StatusNoContent)
		s.end()
	})
	return mux
}
