"""The materials test: work that is taxed only where the materials in it are worth more than a share of the charge.

Some states ask also whether the materials stand on a line of their own. For example California, annotation 435.0755:
embroidery on used clothing is not taxed unless the thread is worth over 10 percent of the charge, or is charged apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

# The class of lines that are materials shown apart.
MATERIALS_CLASS = "goods"


@dataclass(frozen=True)
class MaterialsTest:
    """over_percent: the share above which the work is taxed. when_apart: or where materials stand on their own line.

    materials_percent: what of the charge for the work itself is materials that are not shown, by her own reckoning.
    """

    over_percent: Decimal
    materials_percent: Decimal = Decimal(0)
    when_apart: bool = False

    def is_taxed(self, class_name: str, slip: Sequence[tuple[str, int]]) -> bool:
        """Whether the work of a class on a slip is taxed. slip: class and cents of every line."""
        work = sum(cents for name, cents in slip if name == class_name)
        apart = sum(cents for name, cents in slip if name == MATERIALS_CLASS and name != class_name)
        if self.when_apart and apart:
            return True
        materials = Fraction(work) * Fraction(self.materials_percent) / 100 + apart
        return materials * 100 > Fraction(self.over_percent) * (work + apart)
