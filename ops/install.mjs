// Runs before demo, start and test: makes sure the packages on disk are the ones the lock file names, for
// this Node and this machine. Plain JavaScript without imports of ours, since nothing is installed yet.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readFileSync,
  realpathSync,
  rmdirSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const stampFile = join(root, 'node_modules', '.broodbench-stamp');
const lockFolder = join(root, '.install-lock');

const wanted = createHash('sha256')
  .update(readFileSync(join(root, 'package-lock.json')))
  .update(readFileSync(join(root, 'package.json')))
  .update(`${process.versions.modules} ${process.platform} ${process.arch}`)
  .digest('hex');

const upToDate = () => existsSync(stampFile) && readFileSync(stampFile, 'utf8') === wanted;

function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major > 20 || (major === 20 && minor >= 19)) return;
  console.error(`Node.js ${process.versions.node} is too old: version 20.19 or later is needed.`);
  process.exit(1);
}

// Two commands started at once must not install over each other; a lock left by a killed install ends by age.
function takeLock() {
  for (;;) {
    try {
      mkdirSync(lockFolder);
      return;
    } catch {
      if (upToDate()) return;
      const ageMs = existsSync(lockFolder) ? Date.now() - statSync(lockFolder).mtimeMs : 0;
      if (ageMs > 15 * 60_000) rmdirSync(lockFolder);
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 500);
    }
  }
}

function install() {
  // npm's own variables of the outer command would make the inner one believe it is that command.
  const env = Object.fromEntries(
    Object.entries(process.env).filter(([name]) => !/^npm_(lifecycle|package|command)/.test(name)),
  );
  // Compiling SQLite needs Node's headers; where they came along with Node they need not be fetched.
  const beside = dirname(dirname(realpathSync(process.execPath)));
  if (existsSync(join(beside, 'include', 'node', 'node.h'))) env.npm_config_nodedir ??= beside;
  const npm = process.env.npm_execpath;
  const [command, args] = npm?.endsWith('.js') ? [process.execPath, [npm]] : ['npm', []];
  console.error(
    'Installing packages from the lock file (once; about two minutes where SQLite must be compiled) ...',
  );
  const done = spawnSync(
    command,
    [...args, 'ci', '--include=dev', '--no-audit', '--no-fund', '--loglevel=error'],
    {
      cwd: root,
      env,
      stdio: ['ignore', 2, 2],
    },
  );
  if (done.status !== 0) {
    console.error(
      'The packages could not be installed: see the lines above. Compiling SQLite needs python3, make and g++.',
    );
    process.exit(1);
  }
  writeFileSync(stampFile, wanted);
}

checkNode();
if (!upToDate()) {
  takeLock();
  try {
    if (!upToDate()) install();
  } finally {
    if (existsSync(lockFolder)) rmdirSync(lockFolder);
  }
}
