import type { KnownCulture } from './culture-book.ts';
import type { Prints } from './entries.ts';
import type { Notice } from './notices.ts';
import type { OpenedFile } from './open-file.ts';
import type { CultureDraft } from './read-cultures.ts';
import type { DiaryDraft } from './read-diary.ts';
import type { SplitFromFounding } from './reconcile-splits.ts';

/** Everything that was worked out about the rows, before it is summed up. */
export interface Workings {
  cultures: { file: OpenedFile; drafts: CultureDraft[]; known: Map<CultureDraft, KnownCulture> } | null;
  diary: { file: OpenedFile; drafts: DiaryDraft[]; knownSplits: Map<DiaryDraft, string> } | null;
  foundingSplits: SplitFromFounding[];
  splits: { fromBoth: number; known: number };
  notices: Notice[];
  speciesKey: (name: string) => string;
  isThere: (prints: Prints) => boolean;
}
