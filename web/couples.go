package web

func (s *Server) couplesRoutes() {}
