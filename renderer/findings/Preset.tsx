// By which limits the set is judged: how exact the sewing is, and what cloth.
import { CLOTHS, type PatternSet } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, Fold } from '../app/Field.tsx';

const CLOTH_WORDS: Readonly<Record<(typeof CLOTHS)[number], string>> = {
  woven: 'woven cloth',
  knit: 'knit, stretches',
  tailored: 'tailored, wool',
  shirt: 'shirt with a low cap',
};

export function Preset({ set, actions }: { readonly set: PatternSet; readonly actions: Actions }) {
  const { tolerance, cloth } = set.preset;
  return (
    <Fold title="Judged by">
      <Choice
        label="Limits of"
        value={tolerance}
        choices={[
          ['home', 'home sewing'],
          ['studio', 'a workroom, half as wide'],
        ]}
        onChoose={(chosen) =>
          actions.edit(`Judge by ${chosen} limits`, (all) => ({ ...all, preset: { ...all.preset, tolerance: chosen } }))
        }
      />
      <Choice
        label="Cloth"
        value={cloth}
        choices={CLOTHS.map((one) => [one, CLOTH_WORDS[one]] as const)}
        onChoose={(chosen) =>
          actions.edit(`Judge as ${CLOTH_WORDS[chosen]}`, (all) => ({
            ...all,
            preset: { ...all.preset, cloth: chosen },
          }))
        }
      />
    </Fold>
  );
}
