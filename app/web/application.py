"""Puts the app together: routes, security, error pages, static files."""

from fastapi import FastAPI
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from app.practice.settings import PracticeSettings
from app.records.database import Database
from app.records.practice import load_settings
from app.web import errors, health, pages
from app.web.rendering import STATIC
from app.web.security import SecurityMiddleware


class MarkedStaticFiles(StaticFiles):
    """Static files under /static/<mark of the content>/<name>."""

    def get_path(self, scope: Scope) -> str:
        """The file's name without its mark."""
        return super().get_path(scope).partition("/")[2]


def create_application(database: Database, *, demo: bool = False) -> FastAPI:
    """The app over an open database. `demo` shows the demo accounts on the sign-in page."""
    application = FastAPI(
        title="Chair to Bench", version="1", docs_url=None, redoc_url=None, openapi_url="/api/openapi.json"
    )
    application.state.database = database
    application.state.demo = demo
    refresh_practice(application, load_settings(database))
    application.add_middleware(SecurityMiddleware, show_unexpected=errors.show_unexpected)
    application.mount("/static", MarkedStaticFiles(directory=STATIC), name="static")
    errors.register(application)
    for router in pages.ROUTERS:
        application.include_router(
            router, include_in_schema=router.prefix == "/api" or router is health.router
        )
    return application


def refresh_practice(application: FastAPI, settings: PracticeSettings) -> None:
    """Make the practice's settings the ones that pages use from now on."""
    application.state.practice = settings
