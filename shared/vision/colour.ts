// Colours as three numbers on one scale (red, green and blue, or log lightness, redness and blueness): apart, middle, mean.

export type Colour = readonly [number, number, number];

export function away(a: Colour, b: Colour): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/** Channel by channel; of at least one colour, the upper of two middle ones. */
export function medianColour(colours: readonly Colour[]): Colour {
  const middle = (channel: 0 | 1 | 2): number =>
    colours.map((colour) => colour[channel]).sort((p, q) => p - q)[colours.length >> 1]!;
  return [middle(0), middle(1), middle(2)];
}

/** Channel by channel; of at least one colour. */
export function meanColour(colours: readonly Colour[]): Colour {
  const mean = (channel: 0 | 1 | 2): number =>
    colours.reduce((sum, colour) => sum + colour[channel], 0) / colours.length;
  return [mean(0), mean(1), mean(2)];
}
