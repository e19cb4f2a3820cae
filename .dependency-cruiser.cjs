/** The one direction in which imports may point. Each folder may import those before it. */
const ORDER = ['theory', 'exercise', 'player', 'breath', 'book', 'ensemble', 'people', 'engrave', 'layout', 'output', 'exchange', 'proof'];

const flow = ORDER.map((folder, i) => ({
  name: `flow-${folder}`,
  comment: `core/${folder} may import only what stands before it in the flow.`,
  severity: 'error',
  from: { path: `^core/${folder}/` },
  to: { path: `^core/(${[...ORDER.slice(i + 1), 'build', 'cli', 'files', 'fonts-on-disk'].join('|')})` },
}));

/** Each heavy library has one door. */
const DOORS = {
  tonal: '^core/theory/tonal\\.ts$',
  fontkit: '^core/engrave/metrics\\.ts$',
  pdfkit: '^core/output/pdf\\.ts$',
  hyphen: '^core/layout/hyphenation\\.ts$',
  'mdast-util-from-markdown': '^core/layout/markdown\\.ts$',
  commander: '^core/cli\\.ts$',
  fflate: '^core/output/zip\\.ts$',
  saxes: '^core/exchange/xml-reader\\.ts$',
  'midi-file': '^core/output/midi-codec\\.ts$',
  '@resvg/resvg-wasm': '^core/output/png\\.ts$',
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
    ...flow,
    ...doors,
    {
      name: 'pure-core',
      comment: 'The core knows no file system, no process and no network: only its command line and its file access do.',
      severity: 'error',
      from: { path: '^core/', pathNot: '^core/(cli|files|fonts-on-disk|file-name|batch)' },
      to: { dependencyTypes: ['core'] },
    },
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } } },
    { name: 'core-alone', severity: 'error', from: { path: '^core/' }, to: { path: '^(electron|renderer|tests|bench)/' } },
    {
      name: 'screens-see-no-music-rules',
      comment: 'The renderer sees types, the book, the drawing types and the service contract.',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '^core/(theory|exercise|player|breath|layout|output|proof|build|cli)', dependencyTypesNot: ['type-only'] },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.js'] },
  },
};
