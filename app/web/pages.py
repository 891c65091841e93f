"""The list of all routes, by person."""

from app.web import signin

ROUTERS = (signin.router,)
