import { afterAll } from 'vitest';

type Close = () => unknown;
const toClose: Close[] = [];

/**
 * What a test file opened is closed when that file ends. A hook in the module that opened it would run after one file
 * only: files share their process and load a module once, while this one's hook is set anew before each of them.
 */
export const closeAtEnd = (close: Close) => toClose.push(close);

export const closeAfterFile = () =>
  afterAll(async () => {
    for (const close of toClose.splice(0).reverse()) await close();
  });
