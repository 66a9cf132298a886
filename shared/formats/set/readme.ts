// The README.txt inside a set file: for whoever unpacks it long after this program is gone.
import type { PatternSet } from '../../pattern/model.ts';

/** Plain text, lines of at most 80 characters where names allow it. */
export function readmeText(set: PatternSet): string {
  const pieces = set.pieces.map((piece) => {
    const sizes = Object.keys(piece.shapes);
    return `  ${piece.name} (${piece.kind})${sizes.length === 0 ? ', not traced' : `: ${sizes.join(', ')}`}`;
  });
  return `${set.name}
${'='.repeat(set.name.length)}

This is a set of sewing-pattern pieces, measured from photographs or drawings.
The file is an ordinary zip archive; everything in it can be read without the
program that wrote it.

pieces/*.svg   One drawing for each piece and size at true scale: width and
               height are given in millimetres. Any program that shows SVG can
               print them at 100 %.
shots/*        Pictures of the table at true scale, one for each photograph, if
               they were kept. set.json gives the millimetres per pixel.
set.json       The measurements themselves, as text (JSON, UTF-8):
               * every length is in millimetres, x to the right, y down, angles
                 in degrees, whatever "displayUnits" says;
               * "pieces" hold "shapes", one for each size;
               * a shape's "ring" is its outline: edges in order, clockwise as
                 seen, each a cubic Bezier path of 3n+1 points (start, control,
                 control, point, control, control, point ...);
               * "tracedLine" says whether the ring is the cutting line (seam
                 allowance "allowanceMm" lies inside it) or the seamline itself;
               * a notch lies "atMm" along the seamline of its edge, measured
                 from the edge's start with darts and pleats open;
               * "accuracy" is the standard uncertainty: of the scale as a
                 ratio, by source, and of a single point in millimetres;
               * "seams" say which edges are sewn together.

Pieces
------
${pieces.join('\n')}
`;
}
