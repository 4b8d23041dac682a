"""The tubes that fit a run, each with the pressure that would come of it, to be chosen from."""

from ...build import TubeRun
from ..session import Session
from .sizes import SizeList
from .tube_trials import TUBES


class TubeSizes(SizeList):
    """One row a tube. What is pointed at is shown on the plan; a click or Enter takes it."""

    def __init__(self, session: Session, run: TubeRun) -> None:
        super().__init__(session, run, TUBES)
