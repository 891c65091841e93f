"""The list of all routes, by person."""

from app.web import (
    box_answers,
    box_marks,
    desk,
    desk_events,
    health,
    help,
    home,
    manage,
    manage_accounts,
    people,
    readings,
    signin,
    step_fields,
    steps,
)

ROUTERS = (
    signin.router,
    steps.router,
    readings.router,
    box_marks.router,
    box_answers.router,
    step_fields.router,
    home.router,
    people.router,
    desk.router,
    desk_events.router,
    manage.router,
    manage_accounts.router,
    help.router,
    health.router,
)
