/**
 * The only bridge between window and shell. Checklist item 3 (context isolation) and 20: nothing of Electron is handed
 * over; two plain functions with a fixed list of names, and listeners that never see Electron's own event.
 */
import { contextBridge, ipcRenderer } from 'electron';
import { type Bridge, EVENT_NAMES } from './services/contract/bridge.js';
import { CHANNELS } from './services/contract/questions.js';

const bridge: Bridge = {
  call: (channel, ask) =>
    (CHANNELS as readonly string[]).includes(channel)
      ? ipcRenderer.invoke('call', channel, ask)
      : Promise.reject(new Error('no such service')),
  on(name, listen) {
    if (!(EVENT_NAMES as readonly string[]).includes(name)) return () => undefined;
    const heard = (_event: unknown, data: unknown) => listen(data as never);
    ipcRenderer.on(`event:${name}`, heard);
    return () => void ipcRenderer.removeListener(`event:${name}`, heard);
  },
};

contextBridge.exposeInMainWorld('twelvefold', bridge);
