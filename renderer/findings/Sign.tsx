// The sign of a finding: shape and colour; the word stands beside it.
import type { Sign as SignData } from '../../shared/report/gravitySign.ts';

export function Sign({ sign }: { readonly sign: SignData }) {
  return (
    <svg
      class="sign"
      viewBox="0 0 24 24"
      width="26"
      height="26"
      fill="currentColor"
      style={{ color: sign.colour }}
      aria-hidden="true"
      dangerouslySetInnerHTML={{ __html: sign.shape }}
    />
  );
}
