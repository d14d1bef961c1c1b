// Module hook: turns a .ts file into JavaScript with swc and the settings of .swcrc (decorator metadata included).
import fs from 'node:fs';
import { fileURLToPath } from 'node:url';
import { transformSync } from '@swc/core';

const settings = JSON.parse(fs.readFileSync(new URL('../../../.swcrc', import.meta.url), 'utf8'));
delete settings.jsc.rewriteRelativeImportExtensions;

export async function load(url, context, nextLoad) {
  if (!url.startsWith('file:') || !/\.tsx?$/.test(url)) return nextLoad(url, context);
  const filename = fileURLToPath(url);
  const { code } = transformSync(fs.readFileSync(filename, 'utf8'), {
    ...settings,
    swcrc: false,
    filename,
    module: { type: 'es6' },
  });
  return { format: 'module', source: code, shortCircuit: true };
}
