package web

func (s *Server) setRoutes() {}
