/** What is shipped: licences that fit, no scripts at installation, a lock file that agrees, no known grave fault. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMPATIBLE, FILE, fontNotices, lockFile, ownManifest, shipped, thirdParty } from './licences.js';

const packages = shipped();
const lock = lockFile();
const own = ownManifest();

describe('licences', () => {
  it('of all that is shipped are compatible', () => {
    expect(packages.length).toBeGreaterThan(50);
    expect(packages.filter(({ licence }) => licence === undefined || !COMPATIBLE.includes(licence)).map(({ folder }) => folder)).toEqual(
      [],
    );
    expect(own).toMatchObject({ license: 'MIT' });
  });

  it('are listed in THIRD-PARTY.md as they are now (npm run licences)', () => {
    expect(readFileSync(FILE, 'utf8')).toBe(thirdParty());
    for (const { manifest } of packages) expect(thirdParty()).toContain(`| ${manifest.name} | ${manifest.version} |`);
  });

  it('of the fonts lie beside them', () => {
    expect(fontNotices().filter(({ there }) => !there)).toEqual([]);
    const fonts = readdirSync('assets/fonts').filter((name) => /\.(?:otf|ttf|woff2?)$/.test(name));
    expect(fonts.filter((name) => !/^(?:Sebastian|SourceSerif4)/.test(name))).toEqual([]);
  });

  it('are known for every package that the sources import', () => {
    const names = new Set(packages.map(({ manifest }) => manifest.name));
    const imported = ['core', 'electron', 'renderer']
      .flatMap((folder) => readdirSync(folder, { recursive: true }).map((name) => join(folder, String(name))))
      .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('vite.config.ts'))
      .flatMap((name) => [
        ...readFileSync(name, 'utf8').matchAll(/^(?:import|export)\s(?!type\s)[^;]*?from '([^.'][^']*)'|import\('([^.'][^']*)'\)/gms),
      ])
      .map(([, from, late]) => from ?? (late as string))
      .filter((name) => !name.startsWith('node:'))
      .map((name) =>
        name
          .split('/')
          .slice(0, name.startsWith('@') ? 2 : 1)
          .join('/'),
      );
    expect(imported.length).toBeGreaterThan(10);
    expect([...new Set(imported)].filter((name) => !names.has(name))).toEqual([]);
  });
});

describe('installation', () => {
  const production = packages.filter(({ locked }) => !locked.dev);

  it('runs no script of a package that is needed in production', () => {
    const scripts = ['preinstall', 'install', 'postinstall'];
    const running = production.filter(
      ({ folder, locked, manifest }) =>
        locked.hasInstallScript ||
        existsSync(join(folder, 'binding.gyp')) ||
        scripts.some((name) => manifest.scripts?.[name] !== undefined),
    );
    expect(running.map(({ folder }) => folder)).toEqual([]);
  });

  it('the check sees such scripts: some development packages have them', () => {
    expect(Object.values(lock.packages).some(({ dev, hasInstallScript }) => dev && hasInstallScript)).toBe(true);
  });
});

describe('the lock file', () => {
  it('asks for what package.json asks for, in exact versions', () => {
    const root = lock.packages[''];
    expect(root?.dependencies).toEqual(own.dependencies);
    expect(root?.devDependencies).toEqual(own.devDependencies);
    for (const version of Object.values({ ...own.dependencies, ...own.devDependencies })) expect(version).toMatch(/^\d+\.\d+\.\d+$/);
    for (const [name, version] of Object.entries({ ...own.dependencies, ...own.devDependencies }))
      expect([name, lock.packages[`node_modules/${name}`]?.version]).toEqual([name, version]);
  });

  it('is what is installed, each package with its checksum', () => {
    for (const { folder, locked, manifest } of packages) {
      expect([folder, locked.version]).toEqual([folder, manifest.version]);
      expect(locked.integrity).toMatch(/^sha512-/);
    }
  });

  it('has every package that a shipped one needs', () => {
    for (const { folder, locked } of packages.filter((it) => !it.locked.dev)) {
      for (const name of Object.keys(locked.dependencies ?? {})) {
        const parts = folder.split('/node_modules/');
        const places = parts.map((_, i) => `${parts.slice(0, parts.length - i).join('/node_modules/')}/node_modules/${name}`);
        expect([...places, `node_modules/${name}`].some((place) => lock.packages[place] !== undefined)).toBe(true);
      }
    }
  });
});

it('no known fault of high severity is in what is needed in production', (context) => {
  const { stdout } = spawnSync('npm', ['audit', '--omit=dev', '--json', '--fetch-retries=0', '--fetch-timeout=15000'], {
    encoding: 'utf8',
    // A registry that does not answer must not hold up the tests.
    timeout: 120_000,
    shell: process.platform === 'win32',
  });
  const answer = (() => {
    try {
      return JSON.parse(stdout) as { readonly metadata?: { readonly vulnerabilities?: Readonly<Record<string, number>> } };
    } catch {
      return {};
    }
  })();
  const found = answer.metadata?.vulnerabilities;
  if (!found) {
    const reason = 'the registry of packages does not answer to npm audit';
    Object.assign(context.task.meta, { skipped: reason });
    context.skip(reason);
  }
  expect([found?.high, found?.critical]).toEqual([0, 0]);
});
