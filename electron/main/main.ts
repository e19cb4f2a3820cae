/** Where the desktop program begins. */
import { fileURLToPath } from 'node:url';
import { app, ipcMain } from 'electron';
import { startShell } from './shell.js';

/** This file runs as dist/electron/main.js. */
startShell({
  app,
  ipcMain,
  code: fileURLToPath(new URL('.', import.meta.url)),
  program: fileURLToPath(new URL('../../', import.meta.url)),
  argv: process.argv,
  platform: process.platform,
  now: () => new Date().toISOString(),
});
