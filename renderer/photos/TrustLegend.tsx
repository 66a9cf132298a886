// The legend of the map of trust, over the canvas: what the numbers in the cells mean, and the bands with their hatching.
import { lengthsOf } from '../app/lengths.ts';
import type { WindowState } from '../state/windowState.ts';
import { TRUST_BANDS, TRUST_OVER } from './trustBands.ts';

export function TrustLegend({ state }: { readonly state: WindowState }) {
  if (state.area !== 'photos' || state.shown === null || !state.trustShown[state.shown.kind]) return null;
  const { unit, spread } = lengthsOf(state);
  return (
    <figure class="legend" aria-label="Legend of the map of trust">
      <figcaption>
        How sure a length of {TRUST_OVER[unit].words} is there (19 times in 20), in {unit}
      </figcaption>
      <ul>
        {TRUST_BANDS.map(({ upToMm, name, colour, opacity, hatchPx }, i) => (
          <li key={name}>
            <svg width="26" height="18" aria-hidden="true">
              <rect width="26" height="18" fill={colour} fill-opacity={opacity + 0.15} stroke={colour} />
              {hatchPx !== null &&
                Array.from({ length: Math.ceil(44 / hatchPx) }, (_, k) => (
                  <line key={k} x1={k * hatchPx - 18} y1="18" x2={k * hatchPx} y2="0" stroke={colour} />
                ))}
            </svg>
            {Number.isFinite(upToMm) ? `to ±${spread(upToMm)}` : `over ±${spread(TRUST_BANDS[i - 1]?.upToMm ?? 0)}`}{' '}
            {name}
          </li>
        ))}
      </ul>
    </figure>
  );
}
