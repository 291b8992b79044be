// Package web is the desk: the instructor's app in the browser, on one machine.
//
// Pages are made by the server and work without scripts; small modules add what
// makes them pleasant: a reading under the field while one types, copying, the
// keys of the board. A handler reads the request, asks the domain, and returns a
// view; it computes no chemistry. What a person typed is never lost to an error:
// the page comes back with it.
//
// Templates are html/template, parsed once: contextual escaping is the standard
// library's, and no step of generation is needed.
//
// The desk answers on loopback alone unless it is told otherwise, to the host
// names of loopback, and refuses requests that come from other sites. Its pages
// load nothing from elsewhere and hold no inline script or style.
package web
