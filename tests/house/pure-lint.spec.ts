import path from 'node:path';
import { describe, expect, it } from '@jest/globals';
import { lintPureLibs, lintPureSource } from '../../apps/cli/tools/pure-lint.mjs';

const PLANTED: readonly (readonly [rule: string, code: string])[] = [
  ['no-clock', 'export const t = Date.now();'],
  ['no-clock', 'export const t = new Date();'],
  ['no-clock', 'export const t = Date();'],
  ['no-clock', 'export const t = performance.now();'],
  ['no-clock', 'export const t = globalThis.Date.now();'],
  ['no-chance', 'export const r = Math.random();'],
  ['no-chance', 'export const r = crypto.randomUUID();'],
  ['no-chance', 'export const r = globalThis.crypto.randomUUID();'],
  ['no-environment', "export const z = process.env['TZ'];"],
  ['no-console', "console.log('here');"],
  ['no-timer', 'setTimeout(() => {}, 10);'],
  ['no-timer', 'globalThis.setInterval(() => {}, 10);'],
  ['no-network', "await fetch('http://127.0.0.1');"],
  ['no-machine-zone', 'export const f = new Intl.DateTimeFormat();'],
  ['no-machine-zone', 'export const f = (d: Date) => d.toLocaleDateString();'],
  ['no-require', "export const fs = require('node:fs');"],
  ['throw-an-error', "throw 'text';"],
];

const ALLOWED = [
  'export const d = (ms: number) => new Date(ms);',
  'export const u = Date.UTC(2026, 0, 1);',
  'export interface Step { readonly process: string; readonly performance: number }',
  'export const step = { process: 1, fetch: 2 };',
  'export const name = (step: { process: string }) => step.process;',
  'export function run(process: (n: number) => number) { return process(1); }',
  'export const m = Math.max(1, 2);',
  "throw new Error('with a message');",
];

describe('the lint of pure libraries', () => {
  it.each(PLANTED)('finds %s in: %s', (rule, code) => {
    expect(lintPureSource('planted.ts', code).map((finding) => finding.rule.split(':')[0])).toContain(rule);
  });

  it.each(ALLOWED)('lets through: %s', (code) => {
    expect(lintPureSource('allowed.ts', code)).toEqual([]);
  });

  it('finds nothing in our own libraries', () => {
    expect(lintPureLibs(path.resolve(import.meta.dirname, '../..'))).toEqual([]);
  });
});
