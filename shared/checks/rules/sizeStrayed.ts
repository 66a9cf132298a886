// A line that was traced along a neighbour size: the edge has exactly that size's length, its partner has not, and by the step
// between the two it now misses its partner.
import type { Finding } from '../finding.ts';
import { meetsItsBand } from '../parts/meetsItsBand.ts';
import { isStrayed, nestsThat, type SeamNest } from '../parts/seamNests.ts';
import { defineRule } from '../rule.ts';
import { forcedGravity } from '../seams/forcedGravity.ts';

interface Data {
  readonly seam: string;
  readonly piece: string;
  readonly edge: string;
  readonly size: string;
  readonly along: string;
  readonly lengthMm: number;
  readonly expectedMm: number;
  readonly offMm: number;
  readonly sigmaMm: number;
}

export const sizeStrayed = defineRule<SeamNest, Data>({
  id: 'size-strayed',
  title: "A line follows another size's line",
  why: 'On a sheet with many sizes the lines lie millimetres apart and run through each other. A tracing wheel that slips to the neighbour line for one edge gives a piece that looks right, is off by one grade step there, and does not meet its partner.',
  source: 'As far as the seam itself may differ: Threads #200, 10 Patternwork Skills',
  messages: {
    clear: (d) => `${d.seam}: in every size each edge keeps to its own line.`,
    strayed: (d, say) =>
      `${d.piece}, ${d.edge}: ${say.length(d.lengthMm)} in size ${d.size} is the length of size ${d.along}; ${say.length(d.expectedMm)} would meet ${d.seam} as in the other sizes (${say.uncertain(d.offMm, d.sigmaMm)}, one grade step). Did you follow the line of size ${d.along}?`,
  },
  subjects: nestsThat(({ compared }) => compared.length > 0),
  judge: (nest, context) => {
    const strayed = nest.compared.filter(isStrayed);
    if (strayed.length === 0) {
      const data = { ...NOTHING, seam: nest.seam.name };
      return [{ verdict: 'clear', key: 'clear', data, subjects: [{ seam: nest.seam.id }] }];
    }
    return strayed.map(({ walk, departure, twice }) => {
      const { piece, edge, label, along, lengthMm, expectedMm } = twice!;
      const offMm = Math.abs(lengthMm - expectedMm);
      const { sigmaMm } = departure;
      const size = walk.size;
      const overlay: Finding['overlay'] = [{ kind: 'edge', piece: piece.id, edge }];
      return {
        verdict: 'fault',
        gravity: meetsItsBand(walk, context) === 'clear' ? 'mend' : forcedGravity(offMm, expectedMm),
        key: 'strayed',
        data: {
          seam: nest.seam.name,
          piece: piece.name,
          edge: label,
          size,
          along,
          lengthMm,
          expectedMm,
          offMm,
          sigmaMm,
        },
        subjects: [
          { piece: piece.id, edge, size },
          { seam: nest.seam.id, size },
        ],
        measured: { value: lengthMm - expectedMm, sigma: sigmaMm, unit: 'mm' },
        limit: { value: nest.toleranceMm, unit: 'mm', source: context.limits.seam.source },
        overlay,
        remedies: [
          {
            grade: 'choice',
            sentence: `Trace ${piece.name} again along the line of size ${size}, at the ${label}.`,
          },
        ],
      };
    });
  },
});

const NOTHING = { piece: '', edge: '', size: '', along: '', lengthMm: 0, expectedMm: 0, offMm: 0, sigmaMm: 0 } as const;
