// What a newcomer sees first: the three ways to begin, in the order in which they come.
import type { Actions } from '../app/actions.ts';
import { FileButton } from '../app/FileButton.tsx';
import { currentSet, type WindowState } from '../state/windowState.ts';

export function Welcome({ state, actions }: { readonly state: WindowState; readonly actions: Actions }) {
  const set = currentSet(state);
  return (
    <section class="welcome" aria-label="How to begin">
      <h2>{set === null ? 'Check your pattern before you cut' : `Now the photos for ${set.name}`}</h2>
      {set !== null && set.pieces.length > 0 && (
        <p>It plans for {set.pieces.length} pieces; photos find their own piece, several in one photo if they fit.</p>
      )}
      <ol>
        <li>
          <h3>Print the reference cards</h3>
          <p>
            At 100 %, on plain paper. Measure the two rulers on the page. Cut the four cards apart or leave the page
            whole.
          </p>
          <div class="row">
            <button type="button" onClick={() => void actions.printCards('a4')}>
              Cards on A4
            </button>
            <button type="button" onClick={() => void actions.printCards('letter')}>
              Cards on Letter
            </button>
          </div>
        </li>
        <li>
          <h3>Take the photos</h3>
          <p>
            Lay a piece flat on a table of another colour, the cards around it, and photograph it from above: the whole
            piece and every card in the picture.
          </p>
        </li>
        <li>
          <h3>Drop them here</h3>
          <p>Or open a plan that you were given, or a set from last time.</p>
          <div class="row">
            <FileButton actions={actions} sort="photos" class="main">
              Choose photos
            </FileButton>
            <FileButton actions={actions} sort="set">
              Open a set or plan
            </FileButton>
          </div>
        </li>
      </ol>
      <p class="care">
        A photo shows the shape of the paper, not the cloth. Before good cloth is cut, cut a cheap test garment. Mind
        blades and pins.
      </p>
    </section>
  );
}
