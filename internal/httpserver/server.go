package httpserver

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"syscall"
	"time"

	"crossbin/internal/app"
)

// Times of a connection. A tablet on shop wireless sends its few hundred bytes
// within seconds; what is slower holds a connection for nothing.
const (
	readHeaderTimeout = 5 * time.Second
	readTimeout       = 15 * time.Second
	writeTimeout      = MaxAnswerTime + 15*time.Second
	idleTimeout       = 2 * time.Minute
	graceTime         = 10 * time.Second // for answers under way at the end
	maxHeader         = MaxQuery + 8<<10 // the address and the browser's own headers
)

// Config says what to serve and where.
type Config struct {
	Listen  string // host:port; port 0 takes a free one
	Handler http.Handler
	Logger  *slog.Logger // nil writes nothing
	// ErrorPage tells a browser of a problem; nil sends JSON.
	ErrorPage func(http.ResponseWriter, *http.Request, Problem)
	// Everywhere allows an address that other computers reach. The handler must
	// then tell devices apart itself.
	Everywhere bool
}

// Server listens from New on and answers within Run.
type Server struct {
	listener net.Listener
	http     *http.Server
	logger   *slog.Logger
}

// New opens the listener. An address that is taken is CodeInUse; one that is
// none, or that other computers reach without Everywhere, CodeInvalid.
func New(c Config) (*Server, error) {
	if c.Logger == nil {
		c.Logger = slog.New(slog.DiscardHandler)
	}
	l, err := listen(c.Listen)
	if err != nil {
		return nil, err
	}
	guard, err := guardFor(l.Addr(), c)
	if err != nil {
		return nil, errors.Join(err, l.Close())
	}
	return &Server{listener: l, logger: c.Logger, http: &http.Server{
		Handler:           Wrap(c.Handler, c.Logger, guard, c.ErrorPage),
		ReadHeaderTimeout: readHeaderTimeout,
		ReadTimeout:       readTimeout,
		WriteTimeout:      writeTimeout,
		IdleTimeout:       idleTimeout,
		MaxHeaderBytes:    maxHeader,
		ErrorLog:          slog.NewLogLogger(c.Logger.Handler(), slog.LevelWarn),
	}}, nil
}

func listen(address string) (net.Listener, error) {
	l, err := net.Listen("tcp", address)
	switch {
	case err == nil:
		return l, nil
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, &app.Error{Code: app.CodeInUse, Message: address + " is taken by another program", Cause: err,
			Hint: "stop that program, or choose another port, such as 127.0.0.1:0 for any free one"}
	}
	return nil, &app.Error{Code: app.CodeInvalid, Message: fmt.Sprintf("%q is no address to listen on", address), Cause: err,
		Hint: "an address is host:port, such as 127.0.0.1:8080"}
}

// guardFor gives the guard of a loopback address, none for one that is open on
// purpose.
func guardFor(a net.Addr, c Config) (*Guard, error) {
	switch tcp, ok := a.(*net.TCPAddr); {
	case ok && tcp.IP.IsLoopback():
		return &Guard{}, nil
	case c.Everywhere:
		return nil, nil
	}
	return nil, &app.Error{Code: app.CodeInvalid, Message: c.Listen + " can be reached by other computers, which nobody has paired",
		Hint: "listen on 127.0.0.1:" + port(c.Listen)}
}

func port(address string) string { return address[strings.LastIndexByte(address, ':')+1:] }

// Address gives the address that the server listens on, with the port that it
// got: "127.0.0.1:41234".
func (s *Server) Address() string { return s.listener.Addr().String() }

// Run answers until the context ends, then lets answers under way finish for up
// to ten seconds. It returns nil after such an orderly end.
func (s *Server) Run(ctx context.Context) error {
	failed := make(chan error, 1)
	go func() { failed <- s.http.Serve(s.listener) }()
	select {
	case err := <-failed:
		return fmt.Errorf("serving on %s: %w", s.Address(), err)
	case <-ctx.Done():
	}
	return s.shutdown(failed)
}

func (s *Server) shutdown(failed <-chan error) error {
	ctx, cancel := context.WithTimeout(context.Background(), graceTime)
	defer cancel()
	err := s.http.Shutdown(ctx)
	if err != nil {
		s.logger.Warn("answers were broken off at the end", "after", graceTime)
		err = s.http.Close()
	}
	<-failed // http.ErrServerClosed: the goroutine has ended
	return err
}

// Close gives the address back where Run was never called.
func (s *Server) Close() error { return s.listener.Close() }
