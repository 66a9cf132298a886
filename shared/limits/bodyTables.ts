// Published body tables, as examples to measure a garment against: nobody's body is exactly a column of a table, and a person
// who has a tape should type in their own. Values as printed, in the unit of the source; measures by the names that the
// program uses for bodies.

export interface BodyTable {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly unit: 'in' | 'cm';
  readonly sizes: readonly string[];
  /** One value for each size, in the order of the sizes. */
  readonly measures: Readonly<Record<string, readonly number[]>>;
}

/** The two tables of D5585 differ in the waist alone, as far as they were seen. */
const D5585 = {
  source:
    'ASTM D5585-11e1, Table 1, as far as the public preview goes (astm.org/Standards/D5585.htm): hip, arm and lengths not seen',
  unit: 'in',
  sizes: ['00', '0', '2', '4', '6', '8', '10', '12', '14', '16', '18', '20'],
} as const;
const D5585_MEASURES = {
  head: [21.25, 21.25, 21.5, 21.5, 21.75, 21.75, 22, 22, 22.25, 22.25, 22.5, 22.5],
  neck: [13.25, 13.5, 13.75, 14, 14.25, 14.625, 14.875, 15.125, 15.5, 15.75, 16, 16.375],
  shoulders: [37.125, 37.75, 38.375, 39, 39.75, 40.5, 41.25, 42, 43, 44.25, 45.5, 46.875],
  bust: [31.125, 31.75, 33, 34.125, 35.25, 36.25, 37.25, 38.75, 40.375, 42.125, 44, 46],
} as const;

export const BODY_TABLES: readonly BodyTable[] = [
  {
    ...D5585,
    id: 'd5585-curvy',
    title: 'ASTM D5585-11e1, misses, curvy',
    measures: {
      ...D5585_MEASURES,
      waist: [23.875, 24.625, 25.375, 26.125, 27, 28, 29, 30.75, 32.5, 34.5, 36.75, 39],
    },
  },
  {
    ...D5585,
    id: 'd5585-straight',
    title: 'ASTM D5585-11e1, misses, straight',
    measures: {
      ...D5585_MEASURES,
      waist: [25.375, 26.125, 26.875, 27.625, 28.5, 29.5, 30.5, 32.25, 34, 36, 38.25, 40.5],
    },
  },
  {
    id: 'us-paper-misses',
    title: 'US paper patterns, misses',
    source: 'sewingscholar.blogspot.com, February 2011 (height 5 ft 5 to 5 ft 6): evidence of practice, not a standard',
    unit: 'in',
    sizes: ['6', '8', '10', '12', '14', '16', '18', '20'],
    measures: {
      bust: [30.5, 31.5, 32.5, 34, 36, 38, 40, 42],
      waist: [23, 24, 25, 26.5, 28, 30, 32, 34],
      hip: [32.5, 33.5, 34.5, 36, 38, 40, 42, 44],
      'back length': [15.5, 15.75, 16, 16.25, 16.5, 16.75, 17, 17.25],
    },
  },
  {
    id: 'children-92-122',
    title: 'Children by height, 92 to 122 cm',
    source: "a sewing magazine's size chart (ottobredesign.com): evidence of practice, not a standard",
    unit: 'cm',
    sizes: ['92', '98', '104', '110', '116', '122'],
    measures: {
      height: [92, 98, 104, 110, 116, 122],
      bust: [54, 56, 58, 60, 62, 64],
      waist: [53, 54, 55, 56, 57, 58],
      hip: [58, 60, 62, 64, 66, 68],
      'back length': [22.5, 24, 25, 26.5, 28, 29.5],
    },
  },
];
