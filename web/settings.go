package web

func (s *Server) settingsRoutes() {}
