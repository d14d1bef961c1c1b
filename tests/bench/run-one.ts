// One bench in a process of its own: the file is the argument, the result goes to the parent.
import { pathToFileURL } from 'node:url';
import type { BenchResult } from './bench-result.ts';

const file = process.argv[2];
if (file === undefined || !process.send) throw new Error('run it with: npm run bench -- <name>');
const { run } = (await import(pathToFileURL(file).href)) as { run(): Promise<BenchResult> };
const result = await run();
await new Promise<void>((resolve) => process.send?.(result, () => resolve()));
process.disconnect();
