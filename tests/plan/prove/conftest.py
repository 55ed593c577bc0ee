"""One ring proven once for all tests of this folder: HD-411, a joggle, the quickest of the demonstration."""

from __future__ import annotations

import pytest

from hoopwright.plan.liner_plan import LinerPlan
from hoopwright.plan.prove.key import proof_key
from hoopwright.plan.prove.prove import prove_ring
from hoopwright.plan.prove.record import Proof
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.shelf import Shelf


@pytest.fixture(scope="session")
def joggle(demo: LinerPlan) -> RingPlan:
    """HD-411 as reckoned."""
    return demo.ring("HD-411")


@pytest.fixture(scope="session")
def proof(joggle: RingPlan) -> Proof:
    """Its proof."""
    return prove_ring(joggle, proof_key(joggle.mark))


@pytest.fixture(scope="session")
def proven(joggle: RingPlan, proof: Proof, shelf: Shelf) -> RingPlan:
    """Its plan with the proof."""
    return plan_ring(joggle.job.liner, "HD-411", shelf, proof=proof)
