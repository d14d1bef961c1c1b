// The steps of a container image after `npm ci`: the database client, then the program.
import { buildProgram, generateClient } from './program.mjs';

const say = (line) => console.log(line);
await generateClient({ say });
await buildProgram({ say });
