"""The waistcoat block: the heights, widths and seams that front, back and facings share."""

from dataclasses import dataclass

from demo.drafting import as_point, chain, curve, line, polar, smooth, split
from demo.measurements import Body
from pieces.grainline import Point
from pieces.outline.polygon import FloatArray

CHEST_EASE_MM = 80.0
BACK_SHOULDER_EASE_MM = 5.0
"""The back shoulder is longer than the front's by this and is eased in."""

OVERLAP_MM = 18.0
"""From centre front to the finished front edge, for buttons of 15 mm."""

BACK_SLOPE_DEG = 18.0
FRONT_SLOPE_DEG = 22.0
BELOW_WAIST_MM = 66.0
FACING_SHOULDER_MM = 42.0
FACING_HEM_MM = 52.0
"""Width of the front facing along the hem."""


@dataclass(frozen=True)
class Block:
    """Heights and widths that front and back share: x from the centre, y from the waist, mm."""

    body: Body

    @property
    def underarm(self) -> Point:
        """Top of the side seam."""
        depth = self.body.chest_mm / 8.0 + 115.0
        return (self.body.chest_mm + CHEST_EASE_MM) / 4.0, self.body.back_waist_mm - depth

    @property
    def waist(self) -> Point:
        """Side seam at the waist, with room for a dart of 16 mm."""
        return (self.body.waist_mm + 84.0) / 4.0 + 16.0, 0.0

    @property
    def hem(self) -> Point:
        """Foot of the side seam."""
        girth = 0.55 * self.body.waist_mm + 0.45 * self.body.hip_mm + 96.0
        return girth / 4.0 + 8.0, -BELOW_WAIST_MM

    @property
    def neck_back(self) -> Point:
        """Side of the neck, where the shoulder seams begin."""
        return self.body.neck_mm / 6.0 + 12.0, self.body.back_waist_mm + self.body.neck_mm / 17.0

    @property
    def neck_front(self) -> Point:
        """The same place on the front, a little lower."""
        x, y = self.neck_back
        return x, y - 8.0

    @property
    def shoulder_back(self) -> Point:
        """Outer end of the back shoulder seam."""
        length = self.body.shoulder_mm - 12.0 + BACK_SHOULDER_EASE_MM
        return polar(self.neck_back, length, -BACK_SLOPE_DEG)

    @property
    def shoulder_front(self) -> Point:
        """Outer end of the front shoulder seam."""
        return polar(self.neck_front, self.body.shoulder_mm - 12.0, -FRONT_SLOPE_DEG)

    @property
    def side(self) -> FloatArray:
        """The side seam from hem to underarm, the same on front and back."""
        return chain(
            curve(self.hem, self.waist, leave_deg=97.0, arrive_deg=91.0),
            curve(self.waist, self.underarm, leave_deg=91.0, arrive_deg=80.0),
        )

    @property
    def back_armhole(self) -> FloatArray:
        """The armhole from underarm to shoulder."""
        x, y = self.shoulder_back
        narrow = (x - 9.0, self.underarm[1] + 0.5 * (y - self.underarm[1]))
        return chain(
            curve(self.underarm, narrow, leave_deg=172.0, arrive_deg=90.0, pull=(0.4, 0.42)),
            curve(narrow, (x, y), leave_deg=90.0, arrive_deg=90.0 - BACK_SLOPE_DEG),
        )

    @property
    def front_armhole(self) -> FloatArray:
        """The armhole from underarm to shoulder, hollower than the back's."""
        x, y = self.shoulder_front
        narrow = (x - 19.0, self.underarm[1] + 0.42 * (y - self.underarm[1]))
        return chain(
            curve(self.underarm, narrow, leave_deg=174.0, arrive_deg=92.0, pull=(0.44, 0.42)),
            curve(narrow, (x, y), leave_deg=92.0, arrive_deg=90.0 - FRONT_SLOPE_DEG),
        )

    @property
    def back_neck(self) -> FloatArray:
        """The neckline from shoulder to centre back."""
        return curve(
            self.neck_back,
            (0.0, self.body.back_waist_mm),
            leave_deg=228.0,
            arrive_deg=180.0,
            pull=(0.25, 0.5),
        )

    @property
    def lapel(self) -> FloatArray:
        """The V of the neckline, from shoulder to the front edge at the top button."""
        foot = (-OVERLAP_MM, self.underarm[1] - 28.0)
        return curve(self.neck_front, foot, leave_deg=261.0, arrive_deg=250.0, pull=(0.35, 0.3))

    @property
    def front_edge(self) -> FloatArray:
        """The front edge, from the top button straight down and away to the point."""
        top = (-OVERLAP_MM, self.underarm[1] - 28.0)
        corner, point = (-OVERLAP_MM, -72.0), (0.13 * self.underarm[0], -130.0)
        return line(top, corner, point)

    @property
    def front_hem(self) -> FloatArray:
        """The hem, from the point up to the side seam."""
        x, y = self.front_edge[-1]
        return curve((x, y), self.hem, leave_deg=22.0, arrive_deg=8.0)

    @property
    def back_hem(self) -> FloatArray:
        """The hem, from centre back to the side seam."""
        return curve((0.0, -BELOW_WAIST_MM - 8.0), self.hem, leave_deg=0.0, arrive_deg=6.0)

    @property
    def facing_line(self) -> FloatArray:
        """The inner edge of the front facing, from hem to shoulder."""
        foot, _ = split(self.front_hem, FACING_HEM_MM)
        height = self.underarm[1]
        top = polar(self.neck_front, FACING_SHOULDER_MM, -FRONT_SLOPE_DEG)
        return smooth(
            as_point(foot[-1]),
            (58.0, -10.0),
            (52.0, height - 60.0),
            (74.0, height + 60.0),
            top,
        )

    @property
    def neck_facing_line(self) -> FloatArray:
        """The lower edge of the back neck facing, from centre back to shoulder."""
        top = polar(self.neck_back, FACING_SHOULDER_MM, -BACK_SLOPE_DEG)
        low = (0.0, self.body.back_waist_mm - 52.0)
        return curve(low, top, leave_deg=0.0, arrive_deg=66.0, pull=(0.55, 0.35))
