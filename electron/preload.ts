/**
 * The only bridge between window and shell. Checklist item 3 (context isolation) and 20: nothing of Electron is handed
 * over; two plain functions with a fixed list of names, and listeners that never see Electron's own event.
 */
import { contextBridge, type IpcRendererEvent, ipcRenderer } from 'electron';
import { type Bridge, EVENT_NAMES } from './services/contract/bridge.js';
import { isChannel } from './services/contract/questions.js';

const bridge: Bridge = {
  call: (channel, ask) => (isChannel(channel) ? ipcRenderer.invoke('call', channel, ask) : Promise.reject(new Error('no such service'))),
  on(name, listen) {
    if (!EVENT_NAMES.includes(name)) return () => undefined;
    const heard = (_event: IpcRendererEvent, ...[data]: Parameters<typeof listen>) => listen(data);
    ipcRenderer.on(`event:${name}`, heard);
    return () => void ipcRenderer.removeListener(`event:${name}`, heard);
  },
};

contextBridge.exposeInMainWorld('twelvefold', bridge);
