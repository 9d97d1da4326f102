import type Twelve from 'better-sqlite3';

/**
 * One driver in the two versions that the supported Nodes need: its version 12 ends the process at any moment on Node
 * 24.19 and later (a statement that is collected between two tasks finds no environment), and its version 13, which is
 * built on Node's stable interface, does not run on Node 20. What is used of them is the same.
 */
const nodeMajor = Number(process.versions.node.split('.')[0]);
const driver = nodeMajor >= 22 ? await import('better-sqlite3-napi') : await import('better-sqlite3');

export const Database: typeof Twelve = driver.default;
