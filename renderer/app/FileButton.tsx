// A button that asks for files: through the host's dialog where it has one, else through the browser's own.
import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import type { Actions } from './actions.ts';

interface Props {
  readonly actions: Actions;
  readonly sort: 'set' | 'photos' | 'drawings';
  readonly class?: string;
  readonly children: ComponentChildren;
}

const ACCEPTS: Readonly<Record<Props['sort'], string>> = {
  set: '.notchwise,.json',
  photos: '.jpg,.jpeg,.png,.webp,.tif,.tiff,.heic,.heif,.avif',
  drawings: '.svg',
};

export function FileButton({ actions, sort, class: look, children }: Props) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button
        type="button"
        class={look}
        onClick={() => {
          if (!actions.pick(sort)) input.current?.click();
        }}
      >
        {children}
      </button>
      <input
        ref={input}
        type="file"
        hidden
        aria-label={`Files: ${sort}`}
        accept={ACCEPTS[sort]}
        multiple={sort !== 'set'}
        onChange={(event) => {
          const { files } = event.currentTarget;
          if (files !== null && files.length > 0) void actions.takeFiles([...files]);
          event.currentTarget.value = '';
        }}
      />
    </>
  );
}
