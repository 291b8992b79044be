package web

func (s *Server) boardRoutes() {}
