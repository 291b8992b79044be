package web

func (s *Server) apiRoutes() {}
