import { readFileSync } from 'node:fs';

const described = new URL('../../package.json', import.meta.url);

/** The version of this program. Never told to strangers. */
export const appVersion = (JSON.parse(readFileSync(described, 'utf8')) as { version: string }).version;
