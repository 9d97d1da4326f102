import { createHash } from 'node:crypto';

/** A print as it is kept: the text of a row would be long, and is nobody's business once the import is undone. */
export const hashPrint = (text: string): string => createHash('sha256').update(text).digest('base64url');
