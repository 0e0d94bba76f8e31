"""The mechanics in depth as judged aspects: how a loaded span or panel really fails, one topic a module."""

from stringerlab.methods.mechanics.records import (
    OURS,
    Allowances,
    Carried,
    JudgePanels,
    JudgeSpans,
    LoadedPanel,
    LoadedSpan,
)

__all__ = ["OURS", "Allowances", "Carried", "JudgePanels", "JudgeSpans", "LoadedPanel", "LoadedSpan"]
