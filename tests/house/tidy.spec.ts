import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from '@jest/globals';

const root = path.resolve(import.meta.dirname, '../..');
const read = (file: string): string => fs.readFileSync(path.join(root, file), 'utf8');

interface Manifest {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly devDependencies: Readonly<Record<string, string>>;
}
/** Programs without anything to import. */
const CLI_ONLY = new Set(['@swc/cli']);
/** Packages without a main entry. */
const ENTRY: Readonly<Record<string, string>> = {
  '@prisma/client': '@prisma/client/runtime/client',
  prisma: 'prisma/config',
  'read-excel-file': 'read-excel-file/node',
  'write-excel-file': 'write-excel-file/node',
};
const manifest = JSON.parse(read('package.json')) as Manifest;

function trackedFiles(): string[] {
  return execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], {
    cwd: root,
    encoding: 'utf8',
  })
    .split('\n')
    .filter((file) => file !== '' && fs.existsSync(path.join(root, file)));
}

describe('the house', () => {
  it('pins every package to one exact version', () => {
    const loose = Object.entries({ ...manifest.dependencies, ...manifest.devDependencies }).filter(
      ([, version]) => !/^(npm:[^@]+@)?\d+\.\d+\.\d+(-[\w.]+)?$/.test(version),
    );
    expect(loose).toEqual([]);
  });

  it('keeps addresses of a registry out of the lock file, so that any mirror serves', () => {
    expect(read('package-lock.json')).not.toContain('"resolved"');
  });

  it('keeps hand-written source files to 400 lines', () => {
    const long = trackedFiles()
      // Written by a program from the API description.
      .filter((file) => file !== 'apps/web/src/api/schema.d.ts')
      .filter((file) => /^(apps|libs|tests|prisma)\/.*\.(ts|tsx|mjs)$/.test(file))
      .map((file) => ({ file, lines: read(file).split('\n').length }))
      .filter(({ lines }) => lines > 401);
    expect(long).toEqual([]);
  });

  it('gives every library and application a README', () => {
    const folders = ['libs', 'apps'].flatMap((parent) =>
      fs
        .readdirSync(path.join(root, parent))
        .map((name) => `${parent}/${name}`)
        .filter((folder) => trackedFiles().some((file) => file.startsWith(`${folder}/`))),
    );
    expect(folders.filter((folder) => !fs.existsSync(path.join(root, folder, 'README.md')))).toEqual([]);
  });

  it('grows nothing at the top', () => {
    const visible = trackedFiles().map((file) => file.split('/')[0] ?? '');
    const known = new Set([
      'README.md',
      'DEVELOPERS.md',
      'package.json',
      'package-lock.json',
      'tsconfig.json',
      'docker-compose.yml',
      'Dockerfile',
      'biome.json',
      'jest.config.mjs',
      'knip.json',
      'prisma.config.ts',
      'apps',
      'libs',
      'prisma',
      'tests',
      'docs',
    ]);
    expect([...new Set(visible)].filter((name) => !name.startsWith('.') && !known.has(name))).toEqual([]);
  });

  // Jest on Node 20 cannot require() an ES module: a package that does so works in production and fails only in tests.
  it.each(Object.keys(manifest.dependencies).filter((name) => !CLI_ONLY.has(name)))(
    'can import %s',
    async (name) => {
      expect(await import(ENTRY[name] ?? name)).toBeDefined();
    },
  );
});
