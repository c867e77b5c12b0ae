"""What is said of the safe-state board as a whole. A propeller is never said to be safe: it is as it flies, or not."""

from desktop.core.shop.orders.safe_state import Board, not_normal

LIVE = "As it flies: treat the propeller as live"
NOT_AS_IT_FLIES = "not as it flies"


def board_words(board: Board) -> str:
    """Say what on the aircraft is not as it flies; with nothing of that, to treat the propeller as live."""
    others = [f"{standing.item.value} {standing.word}" for standing in not_normal(board)]
    return f"Not as it flies: {', '.join(others)}" if others else LIVE
