"""Settings for all tests: how laws are tried, and which tests a worker keeps together."""

from __future__ import annotations

import os
from typing import Any

import pytest
from forgetting import forget, forgetful
from hypothesis import HealthCheck, settings
from pools import scope_of

# What the tests compare has no colour, whatever the shell that runs them asks for.
os.environ.pop("FORCE_COLOR", None)
QUIET: dict[str, Any] = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
#: The same on every machine.
settings.register_profile("fretloom", derandomize=True, **QUIET)
#: New things for every law, on demand: `pytest --hypothesis-profile deep`.
settings.register_profile("deep", max_examples=200, **QUIET)
#: For mutation tests: few examples, and nothing remembered from one test to the next.
settings.register_profile("mutation", derandomize=True, max_examples=40, **QUIET)
settings.load_profile("fretloom")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark tests by what they use; where a helper starts another interpreter, they say so themselves."""
    for item in items:
        if isinstance(item, pytest.Function):
            if "subprocess" in item.function.__code__.co_names:
                item.add_marker("process")
            if "SOURCE" in vars(item.module):
                item.add_marker("source")


def pytest_runtest_setup() -> None:
    """Let each test work out for itself what it depends on, where that is asked for."""
    if forgetful():
        forget()


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Share the tests out one by one, but those of a pool's share together."""
    from xdist.scheduler import LoadScopeScheduling

    class ByShare(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            return scope_of(nodeid)

    return ByShare(config, log)
