// `node --import ./apps/cli/tools/register-ts.mjs file.ts` runs TypeScript straight from the sources.
import { register } from 'node:module';

register('./ts-loader.mjs', import.meta.url);
process.env.TZ ??= 'UTC';
