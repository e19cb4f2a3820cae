import { command, type JsonOption } from './command.js';

export const instruments = command({
  usage: 'instruments',
  words: 'list the instruments and their written compass',
  options: [],
  run: async (terminal, options: JsonOption) => (await import('../lists.js')).instrumentsCommand(options, terminal),
});

export const figures = command({
  usage: 'figures',
  words: 'list the figures of the library',
  options: [],
  run: async (terminal, options: JsonOption) => (await import('../lists.js')).figuresCommand(options, terminal),
});

export const keyOrders = command({
  usage: 'key-orders',
  words: 'list the key orders, from C',
  options: [],
  run: async (terminal, options: JsonOption) => (await import('../lists.js')).keyOrdersCommand(options, terminal),
});
