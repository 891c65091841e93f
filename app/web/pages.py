"""The list of all routes, by person."""

from app.web import readings, signin, step_fields, steps

ROUTERS = (
    signin.router,
    steps.router,
    readings.router,
    step_fields.router,
)
