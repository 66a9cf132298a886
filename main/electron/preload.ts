// The preload script, bundled to one CommonJS file because a sandboxed preload can load nothing else.
import { contextBridge, ipcRenderer } from 'electron';
import { BRIDGE_GLOBAL } from '../../shared/contract/contract.ts';
import { makeBridge } from './bridge.ts';

contextBridge.exposeInMainWorld(BRIDGE_GLOBAL, makeBridge(ipcRenderer));
