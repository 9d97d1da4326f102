// Puts the service into a few files of plain JavaScript below .built/, once for every change of its sources: started from
// its more than a thousand TypeScript files, the service takes three times as long, and each of its threads again.
// Plain JavaScript without imports of ours, since it runs before anything can read TypeScript.
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const shelf = join(root, '.built');
const rooms = ['server', 'views', 'shared'];
const builder = join('ops', 'built.mjs');

const filesIn = (room) =>
  readdirSync(join(root, room), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(tsx?|mjs)$/.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)))
    .sort();

/** A mark of what stands in the sources: times of files say little after a copy, an unpacking or a checkout. */
function markOf(files) {
  const mark = createHash('sha256');
  for (const file of [...files, builder]) mark.update(`${file}\n`).update(readFileSync(join(root, file)));
  return mark.digest('hex').slice(0, 16);
}

const isThread = (file) => file.endsWith('-worker.mjs');
/** Where a source starts a thread from a file beside it. */
const startsThread = /new URL\('\.\/([\w-]+-worker)\.mjs', import\.meta\.url\)/g;

/** A source with the threads that it starts taken from a folder of built ones; as an expression of JavaScript. */
export const withThreadsFrom = (text, folder) =>
  text.replace(startsThread, (_, name) => `new URL('./${name}.js', ${folder})`);

/** Sources know other files by where they lie themselves; built, all lie in one folder two steps below the top. */
const placesOf = {
  name: 'places',
  setup(build) {
    build.onResolve({ filter: /^tsx\/esm\/api$/ }, () => ({ path: 'register', namespace: 'nothing' }));
    // Threads learn to read TypeScript first; here is none to read.
    build.onLoad({ filter: /.*/, namespace: 'nothing' }, () => ({
      contents: 'export const register = () => {};',
    }));
    build.onLoad({ filter: /\.(tsx?|mjs)$/ }, ({ path }) => {
      const text = readFileSync(path, 'utf8');
      if (!text.includes('import.meta.url') || path.includes('node_modules')) return undefined;
      const from = JSON.stringify(`../../${relative(root, path).split(sep).join('/')}`);
      const contents = withThreadsFrom(text, 'import.meta.url').replace(
        /(?<!\.js', )import\.meta\.url/g,
        `new URL(${from}, import.meta.url).href`,
      );
      return { contents, loader: path.endsWith('.tsx') ? 'tsx' : path.endsWith('.ts') ? 'ts' : 'js' };
    });
  },
};

async function build(files, folder) {
  const { build: run } = await import('esbuild');
  const made = `${folder}.${process.pid}`;
  await run({
    absWorkingDir: root,
    entryPoints: ['server/main.ts', ...files.filter(isThread)],
    entryNames: '[name]',
    chunkNames: '[name]-[hash]',
    outdir: made,
    bundle: true,
    splitting: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    packages: 'external',
    jsx: 'automatic',
    jsxImportSource: 'preact',
    keepNames: true,
    sourcemap: 'linked',
    logLevel: 'error',
    plugins: [placesOf],
  });
  // Whole or not at all, whoever else builds at the same time.
  if (existsSync(folder)) rmSync(made, { recursive: true });
  else renameSync(made, folder);
}

const isAlive = (pid) => {
  try {
    return process.kill(pid, 0);
  } catch (error) {
    return error.code === 'EPERM';
  }
};

/** Whoever started from a folder may yet start threads from it, however many were built since. */
function takeIntoUse(folder) {
  try {
    mkdirSync(join(folder, 'used-by'), { recursive: true });
    writeFileSync(join(folder, 'used-by', String(process.pid)), '');
  } catch (error) {
    // Built beforehand by somebody else: here nobody clears it away either.
    if (!['EACCES', 'EROFS', 'EPERM'].includes(error.code)) throw error;
  }
}

const isUsed = (folder) =>
  existsSync(join(folder, 'used-by')) &&
  readdirSync(join(folder, 'used-by')).some((pid) => isAlive(Number(pid)));

/** The last few stay, and what is in use. */
export function clearShelf(from = shelf) {
  const old = readdirSync(from)
    .map((name) => ({ path: join(from, name), at: statSync(join(from, name)).mtimeMs }))
    .sort((a, b) => b.at - a.at)
    .slice(4);
  for (const { path } of old) if (!isUsed(path)) rmSync(path, { recursive: true, force: true });
}

/** The folder with the built service, made if need be. Throws where nothing can be written. */
export async function builtFolder() {
  const files = rooms.flatMap(filesIn);
  const folder = join(shelf, markOf(files));
  const isThere = existsSync(folder);
  if (!isThere) {
    mkdirSync(shelf, { recursive: true });
    await build(files, folder);
  }
  takeIntoUse(folder);
  if (!isThere) clearShelf();
  return folder;
}
