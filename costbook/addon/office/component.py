"""What LibreOffice starts: the commands of the menu and the toolbar."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

_HERE = Path(__file__).parent
sys.path.insert(0, str(_HERE / "pythonpath"))  # before any other costbook that is installed here

import unohelper  # noqa: E402 - ours must be found first
from com.sun.star.frame import (  # noqa: E402 - the same
    FeatureStateEvent,
    XDispatch,
    XDispatchProvider,
)
from com.sun.star.lang import XInitialization, XServiceInfo  # noqa: E402 - the same

from costbook.addon.office.asking import at_work  # noqa: E402 - the same
from costbook.addon.office.commands import COMMANDS  # noqa: E402 - the same
from costbook.addon.office.desk import Desk  # noqa: E402 - the same

NAME = "costbook.addon.Commands"
SERVICE = "com.sun.star.frame.ProtocolHandler"
PROTOCOL = "costbook.addon:"


class Commands(unohelper.Base, XInitialization, XDispatchProvider, XDispatch, XServiceInfo):  # type: ignore[misc]  # uno carries no types
    """The commands in one window."""

    def __init__(self, context: Any) -> None:
        self._context = context
        self._frame: Any = None

    def initialize(self, given: Sequence[Any]) -> None:
        """Hear which window this is for."""
        self._frame = given[0] if given else None

    def queryDispatch(self, url: Any, _target: str, _flags: int) -> Any:  # noqa: N802 - UNO's name
        """Who runs a command: this, for each of ours."""
        return self if url.Protocol == PROTOCOL and url.Path in COMMANDS else None

    def queryDispatches(self, asked: Sequence[Any]) -> list[Any]:  # noqa: N802 - UNO's name
        """The same for many."""
        return [self.queryDispatch(one.FeatureURL, "", 0) for one in asked]

    def dispatch(self, url: Any, _arguments: Sequence[Any]) -> None:
        """Run a command."""
        COMMANDS[url.Path](Desk(self._context, self._frame, _HERE))

    def addStatusListener(self, listener: Any, url: Any) -> None:  # noqa: N802 - UNO's name
        """Say that a command can be chosen: who isn't told greys it out."""
        told = FeatureStateEvent()
        told.Source, told.FeatureURL, told.IsEnabled, told.Requery = self, url, not at_work(), False
        listener.statusChanged(told)

    def removeStatusListener(self, _listener: Any, _url: Any) -> None:  # noqa: N802 - UNO's name
        """Nothing is kept of listeners."""

    def getImplementationName(self) -> str:  # noqa: N802 - UNO's name
        """Its name."""
        return NAME

    def supportsService(self, name: str) -> bool:  # noqa: N802 - UNO's name
        """Whether it is a service of that name."""
        return name == SERVICE

    def getSupportedServiceNames(self) -> Any:  # noqa: N802 - UNO's name
        """What it is."""
        return (SERVICE,)


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 - the name that is looked for
g_ImplementationHelper.addImplementation(Commands, NAME, (SERVICE,))
