import fs from 'node:fs';

const swc = JSON.parse(fs.readFileSync(new URL('./.swcrc', import.meta.url), 'utf8'));
// Jest finds the .ts files itself; rewritten to .js they would not be found.
delete swc.jsc.rewriteRelativeImportExtensions;

export default {
  testEnvironment: '<rootDir>/apps/cli/tools/leak-watch-environment.mjs',
  roots: ['<rootDir>/libs', '<rootDir>/apps', '<rootDir>/tests'],
  testMatch: ['**/*.spec.ts'],
  testPathIgnorePatterns: ['/node_modules/', '<rootDir>/apps/web/', '<rootDir>/dist/'],
  modulePathIgnorePatterns: ['<rootDir>/dist'],
  // A guard against tests that hang, not a measure of speed: CI machines are slow and busy.
  testTimeout: 60_000,
  extensionsToTreatAsEsm: ['.ts'],
  transform: { '^.+\\.ts$': ['@swc/jest', { ...swc, swcrc: false, module: { type: 'es6' } }] },
};
