package web

func (s *Server) questionRoutes() {}
