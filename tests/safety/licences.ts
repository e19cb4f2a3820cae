/**
 * The packages that are shipped, with their licences, and THIRD-PARTY.md that tells them: `npm run licences` writes it.
 * Shipped is what the lock file needs in production, and what the window has bundled in.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
export const FILE = join(ROOT, 'THIRD-PARTY.md');

/** Development packages whose code is bundled into the window, and the runtime of the desktop program. */
const BUNDLED = ['react', 'react-dom', 'scheduler'];
const RUNTIME = ['electron'];

/** Licences (SPDX) under which a part may go into a program under the MIT licence. */
export const COMPATIBLE = [
  'MIT',
  'ISC',
  'BSD-2-Clause',
  'BSD-3-Clause',
  '0BSD',
  'Apache-2.0',
  'MPL-2.0',
  'Zlib',
  'Unlicense',
  'CC0-1.0',
  'OFL-1.1',
];

type Locked = {
  readonly version: string;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
  readonly integrity?: string;
  readonly hasInstallScript?: boolean;
  readonly resolved?: string;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
};
export type Lock = { readonly lockfileVersion: number; readonly packages: Readonly<Record<string, Locked>> };

export type Manifest = {
  readonly name: string;
  readonly version: string;
  readonly license?: unknown;
  readonly repository?: string | { readonly url?: string };
  readonly scripts?: Readonly<Record<string, string>>;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
};

const json = <T>(path: string): T => JSON.parse(readFileSync(join(ROOT, path), 'utf8')) as T;

export const lockFile = (): Lock => json('package-lock.json');
export const ownManifest = (): Manifest => json('package.json');

export type Shipped = {
  /** `node_modules/react` */
  readonly folder: string;
  readonly locked: Locked;
  readonly manifest: Manifest;
  /** SPDX id, from the manifest or, where that says nothing, from the licence's own words; undefined when neither tells. */
  readonly licence: string | undefined;
  /** Text of the licence file; undefined when the package has none. */
  readonly text: string | undefined;
};

function licenceText(folder: string): string | undefined {
  const name = readdirSync(join(ROOT, folder)).find((file) => /^(?:licen[cs]e|copying)(?:\.(?:md|txt))?$/i.test(file));
  return (
    name &&
    readFileSync(join(ROOT, folder, name), 'utf8')
      .replaceAll('\r\n', '\n')
      .trim()
  );
}

function licenceOf({ license }: Manifest, text: string | undefined): string | undefined {
  if (typeof license === 'string') return license;
  return text && /Permission is hereby granted, free of charge, to any person\s+obtaining a copy/.test(text) ? 'MIT' : undefined;
}

/** Every package that is shipped, by folder. */
export function shipped(): Shipped[] {
  const { packages } = lockFile();
  const extra = new Set([...BUNDLED, ...RUNTIME].map((name) => `node_modules/${name}`));
  return Object.entries(packages)
    .filter(([folder, { dev, devOptional }]) => folder !== '' && ((!dev && !devOptional) || extra.has(folder)))
    .map(([folder, locked]) => {
      const manifest = json<Manifest>(join(folder, 'package.json'));
      const text = licenceText(folder);
      return { folder, locked, manifest, licence: licenceOf(manifest, text), text };
    });
}

/** Fonts in the repository, with the file that has their licence. */
const FONTS = [
  { name: 'Sebastian', files: 'Sebastian.otf', licence: 'OFL-1.1', text: 'assets/fonts/Sebastian-LICENSE.txt' },
  { name: 'Source Serif 4', files: 'SourceSerif4*.otf', licence: 'OFL-1.1', text: 'assets/fonts/SourceSerif4-LICENSE.md' },
];

/** A line that names the holder, in a short licence; in a long one such lines are left where they stand. */
const COPYRIGHT = /^\W*(?:Copyright\s|©)/;
const SHORT = 4_000;

type Group = { readonly words: string; readonly who: string[] };

/** Licence texts, each once, with the packages and the copyright lines that stand in it. */
function grouped(packages: readonly Shipped[]): Group[] {
  const groups = new Map<string, Group>();
  for (const { manifest, text } of packages) {
    if (text === undefined) continue;
    const lines = text.split('\n');
    const holder = (line: string) => text.length < SHORT && COPYRIGHT.test(line);
    const rights = lines.filter(holder).map((line) => line.replace(/^[\s#*>]+/, '').trim());
    const words = lines
      .filter((line) => !holder(line))
      .join('\n')
      .replace(/\n{3,}/g, '\n\n')
      .trim();
    const key = words.replace(/[\s*#]+/g, ' ').toLowerCase();
    const group = groups.get(key) ?? { words, who: [] };
    groups.set(key, group);
    group.who.push(`${manifest.name} ${manifest.version}${rights.length > 0 ? `: ${rights.join(' ')}` : ''}`);
  }
  return [...groups.values()];
}

const source = ({ repository }: Manifest): string =>
  (typeof repository === 'string' ? repository : (repository?.url ?? ''))
    .replace(/^git\+/, '')
    .replace(/^(?:git@|ssh:\/\/git@)([^:/]+)[:/]/, 'https://$1/')
    .replace(/\.git$/, '');

/** The text of THIRD-PARTY.md. Same packages, same text. */
export function thirdParty(): string {
  const packages = shipped();
  const row = ({ manifest, licence, text }: Shipped) =>
    `| ${manifest.name} | ${manifest.version} | ${licence ?? 'unknown'} | ${text === undefined ? `states its licence in its package.json; source: ${source(manifest) || 'its package'}` : 'text below'} |`;
  const out = [
    '# Third-party parts',
    '',
    'Twelvefold itself is under the MIT licence (LICENSE). It is shipped with these parts. This file is written by `npm run licences`.',
    '',
    '## Packages',
    '',
    '| Package | Version | Licence | Notice |',
    '|---|---|---|---|',
    ...packages.map(row),
    '',
    'The desktop program runs on Electron, which brings the notices of Chromium and Node.js in files of its own.',
    'Parts under MPL-2.0 are shipped unchanged; their source is at the address given.',
    '',
    '## Fonts',
    '',
    '| Font | Files | Licence | Notice |',
    '|---|---|---|---|',
    ...FONTS.map(({ name, files, licence, text }) => `| ${name} | assets/fonts/${files} | ${licence} | ${text} |`),
    '',
    '## Licence texts',
    '',
    ...grouped(packages).flatMap(({ words, who }) => [...who.map((line) => `* ${line}`), '', '```text', words, '```', '']),
  ];
  return `${out.join('\n').trimEnd()}\n`;
}

export const fontNotices = (): readonly { readonly text: string; readonly there: boolean }[] =>
  FONTS.map(({ text }) => ({ text, there: existsSync(join(ROOT, text)) }));

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(FILE, thirdParty());
  process.stdout.write(`Wrote THIRD-PARTY.md: ${shipped().length} packages, ${FONTS.length} fonts.\n`);
}
