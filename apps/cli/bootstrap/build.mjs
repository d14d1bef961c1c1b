// Builds the program into dist/, keeping the tree: server parts with swc, the web client with Vite.
import { pathToFileURL } from 'node:url';
import { buildProgram } from './program.mjs';

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  try {
    await buildProgram({ say: (line) => console.log(line) });
  } catch (error) {
    console.error(error.message);
    process.exit(1);
  }
}
