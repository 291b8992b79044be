package web

func (s *Server) galleryRoutes() {}
