package live

import (
	"io"
	"log"
)

// silent drops what the server would say of broken connections.
func silent() *log.Logger { return log.New(io.Discard, "", 0) }
