// Starts the service: built, or where nothing can be written beside the sources, from the sources themselves.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { builtFolder } from './built.mjs';

async function main() {
  try {
    return pathToFileURL(join(await builtFolder(), 'main.js')).href;
  } catch (error) {
    if (!['EACCES', 'EROFS', 'EPERM'].includes(error?.code)) throw error;
    const { register } = await import('tsx/esm/api');
    register();
    return new URL('../server/main.ts', import.meta.url).href;
  }
}

// An error's place is told as it stands in the sources.
process.setSourceMapsEnabled(true);
await import(await main());
