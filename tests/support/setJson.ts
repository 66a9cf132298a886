// A small set as another program would write it by hand: only what has to be said.

/** A fresh copy each time, so that a test may spoil it. */
export function smallSet() {
  return {
    format: 'notchwise-set/1',
    name: 'Two panels',
    pieces: [
      {
        name: 'Front panel',
        kind: 'front skirt',
        cut: [{ count: 1, onFold: true }],
        shapes: {
          M: {
            tracedLine: 'seam',
            ring: [
              {
                id: 'top',
                role: 'opening',
                curve: [
                  [0, 0],
                  [200, 0],
                ],
              },
              {
                id: 'side',
                curve: [
                  [200, 0],
                  [200, 300],
                ],
              },
              {
                id: 'hem',
                role: 'hem',
                curve: [
                  [200, 300],
                  [0, 300],
                ],
              },
              {
                id: 'fold',
                role: 'fold',
                curve: [
                  [0, 300],
                  [0, 0],
                ],
              },
            ],
            notches: [{ edge: 'side', atMm: 150 }],
          },
        },
      },
      {
        name: 'Back panel',
        kind: 'back skirt',
        cut: [{ count: 1, onFold: true }],
        shapes: {
          M: {
            tracedLine: 'seam',
            ring: [
              {
                id: 'top',
                role: 'opening',
                curve: [
                  [0, 0],
                  [200, 0],
                ],
              },
              {
                id: 'side',
                curve: [
                  [200, 0],
                  [200, 300],
                ],
              },
              {
                id: 'hem',
                role: 'hem',
                curve: [
                  [200, 300],
                  [0, 300],
                ],
              },
              {
                id: 'fold',
                role: 'fold',
                curve: [
                  [0, 300],
                  [0, 0],
                ],
              },
            ],
            notches: [{ edge: 'side', atMm: 150 }],
          },
        },
      },
    ],
    seams: [
      { name: 'side', sides: [[{ piece: 'front-panel', edge: 'side' }], [{ piece: 'back-panel', edge: 'side' }]] },
    ],
  };
}

export type SmallSet = ReturnType<typeof smallSet>;
