"""Where the data are and where the server listens: environment variables, or a .env file beside the app."""

from pathlib import Path

from pydantic import Field
from pydantic_settings import BaseSettings, SettingsConfigDict

BESIDE_THE_APP = Path(__file__).resolve().parent.parent.parent


class Location(BaseSettings):
    """CHAIR_TO_BENCH_DATABASE, _DATA, _HOST and _PORT, each with a default for one computer alone."""

    model_config = SettingsConfigDict(
        env_prefix="CHAIR_TO_BENCH_", env_file=BESIDE_THE_APP / ".env", extra="ignore", frozen=True
    )

    database: str = ""
    """SQLAlchemy URL. Empty: an SQLite file in the data folder."""
    data: Path = BESIDE_THE_APP / "data"
    host: str = "127.0.0.1"
    port: int = Field(default=8000, ge=1, le=65535)

    @property
    def database_url(self) -> str:
        """The URL of the database."""
        return self.database or f"sqlite:///{self.data.expanduser().resolve() / 'chair-to-bench.sqlite'}"
