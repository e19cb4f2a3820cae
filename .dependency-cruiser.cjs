/** The one direction in which imports may point. Each folder of the core may import those before it. */
const ORDER = [
  'base', 'theory', 'exercise', 'player', 'breath', 'book', 'ensemble', 'people', 'engrave', 'layout', 'output', 'import',
  'proof', 'build', 'export', 'disk', 'batch', 'cli',
];

/** The rooms of the window, in the order in which each may import those before it. */
const ROOMS = ['texts', 'host', 'state', 'edits', 'files', 'sound', 'watchers', 'commands', 'parts', 'dialogs', 'places', 'frame'];

/** Rules that each folder imports only what stands before it. */
const flowOf = (root, order) =>
  order.slice(0, -1).map((folder, i) => ({
    name: `flow-${root}-${folder}`,
    comment: `${root}/${folder} may import only what stands before it in the flow.`,
    severity: 'error',
    from: { path: `^${root}/${folder}/` },
    to: { path: `^${root}/(${order.slice(i + 1).join('|')})/` },
  }));

/**
 * The order of the window's services and hosts: what a window may ask, the files on the disk, what answers, and the hosts.
 * What stands side by side knows nothing of each other.
 */
const CONTRACT = '^electron/services/contract/';
const DISK = '^electron/services/disk/';
const JOB = '^electron/services/job/';
const HOST = '^electron/services/host/';
const SHELL = '^electron/main/';
const BROWSER = '^electron/loopback/';

const services = [
  { from: CONTRACT, not: [DISK, JOB, HOST, SHELL, BROWSER] },
  { from: DISK, not: [JOB, HOST, SHELL, BROWSER] },
  { from: JOB, not: [HOST, SHELL, BROWSER] },
  { from: HOST, not: [JOB, SHELL, BROWSER] },
  { from: SHELL, not: [JOB, BROWSER] },
  { from: BROWSER, not: [JOB, SHELL] },
].map(({ from, not }) => ({
  name: `services-${from.match(/(\w+)\/$/)[1]}`,
  comment: 'contract ← disk ← host, job ← main, loopback: imports point to what stands before.',
  severity: 'error',
  from: { path: from },
  to: { path: not },
}));

/** Each heavy library has one door. */
const DOORS = {
  tonal: '^core/theory/tonal\\.ts$',
  fontkit: '^core/engrave/metrics\\.ts$',
  pdfkit: '^core/output/pdf/kit\\.ts$',
  hyphen: '^core/layout/text/hyphenation\\.ts$',
  'mdast-util-from-markdown': '^core/layout/text/markdown\\.ts$',
  commander: '^core/cli/main\\.ts$',
  fflate: '^core/output/zip\\.ts$',
  saxes: '^core/import/xml-reader\\.ts$',
  'midi-file': '^core/output/sound/midi-codec\\.ts$',
  '@resvg/resvg-wasm': '^core/output/picture/png\\.ts$',
};

const doors = Object.entries(DOORS).map(([library, door]) => ({
  name: `one-door-${library}`,
  comment: `${library} is imported in one file only.`,
  severity: 'error',
  from: { path: '^core/', pathNot: door },
  to: { path: `^node_modules/${library}/` },
}));

module.exports = {
  forbidden: [
    ...flowOf('core', ORDER),
    ...flowOf('renderer', ROOMS),
    ...doors,
    ...services,
    {
      name: 'every-folder-in-the-order',
      comment: 'A folder or file of the core that the order does not name has no place in the flow.',
      severity: 'error',
      from: {},
      to: { path: '^core/', pathNot: `^core/(${ORDER.join('|')})/` },
    },
    {
      name: 'pure-core',
      comment: 'The core knows no file system, no process and no network: only disk, batch and the command line do.',
      severity: 'error',
      from: { path: '^core/', pathNot: '^core/(disk|batch|cli)/' },
      to: { dependencyTypes: ['core'] },
    },
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    { name: 'core-alone', severity: 'error', from: { path: '^core/' }, to: { path: '^(electron|renderer|tests|bench)/' } },
    { name: 'product-without-tests', severity: 'error', from: { path: '^(electron|renderer|bench)/' }, to: { path: '^tests/' } },
    { name: 'services-without-screens', severity: 'error', from: { path: '^electron/' }, to: { path: '^renderer/' } },
    {
      name: 'screens-see-the-contract',
      comment: 'Of the shell and its services the renderer knows what it may ask, and nothing of who answers.',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '^electron/', pathNot: CONTRACT },
    },
    {
      name: 'every-room-in-the-order',
      comment: 'A room of the window that the order does not name has no place in the flow.',
      severity: 'error',
      from: {},
      to: { path: '^renderer/[^/]+/', pathNot: `^renderer/(${ROOMS.join('|')}|styles)/` },
    },
    {
      name: 'rooms-under-the-window',
      comment: 'What starts the window stands in the root of the renderer and is imported by none of its rooms.',
      severity: 'error',
      from: { path: '^renderer/[^/]+/' },
      to: { path: '^renderer/[^/]+$' },
    },
    {
      name: 'screens-see-no-music-rules',
      comment: 'The renderer sees types, the book, the drawing types and the service contract.',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '^core/(theory|exercise|player|breath|layout|output|proof|build|export|disk|batch|cli)/', dependencyTypesNot: ['type-only'] },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.js'] },
  },
};
