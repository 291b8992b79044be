package web

func (s *Server) markerRoutes() {}
