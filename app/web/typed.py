"""What a form sent: its text, by name of the box."""

from typing import Annotated

from fastapi import Depends, Request


async def typed_of(request: Request) -> dict[str, str]:
    """Every text of the form; of several with one name the last. Files are not taken."""
    form = await request.form()
    return {name: value for name, value in form.items() if isinstance(value, str)}


Typed = Annotated[dict[str, str], Depends(typed_of)]
