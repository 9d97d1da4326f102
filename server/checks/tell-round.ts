import { tellNews } from '../plumbing/news.ts';
import type { Db } from '../plumbing/open-database.ts';

/** Tells everybody who has the round open which cultures to look at anew. */
export const tellRound = (db: Db, codes: readonly string[]) => tellNews(db, { topic: 'round', about: codes });
