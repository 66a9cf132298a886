// Finds the host: the bridge that the desktop's preload put on the window, or the loopback server this page came from.
import { BRIDGE_GLOBAL, type Bridge } from '../../shared/contract/contract.ts';
import { loopbackBridge } from './loopbackBridge.ts';

export function connect(page: Window): Bridge {
  const given = (page as Window & { readonly [BRIDGE_GLOBAL]?: Bridge })[BRIDGE_GLOBAL];
  return given ?? loopbackBridge(page.location.hash.slice(1));
}
