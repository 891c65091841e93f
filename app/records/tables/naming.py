"""Names of constraints and widths of columns, settled before the first table is declared."""

from sqlmodel import SQLModel

# SQLite cannot drop a constraint that has no name, so every one gets its name by rule.
SQLModel.metadata.naming_convention = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}

IDENTITY = 32
MOMENT = 32
KEY = 64
"""Longest key of a measurement, a method, a reason, a check …"""
NAME = 200
SHORT = 100
PATH = 120
DIGEST = 64
NOTE = 4000
FIELD_TEXT = 4000
REQUEST_KEY = 128
