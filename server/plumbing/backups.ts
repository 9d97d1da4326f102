import type { BackupReason } from '../../shared/backups/manifest.ts';

/** One of the backups that are kept. */
export type ShelfBackup = {
  name: string;
  folder: string;
  madeAt: number;
  bytes: number;
  reason: BackupReason;
  schema: number;
  /** When it was last restored to a place of its own and held together; null when never. */
  provenAt: number | null;
};

export type BackupStep = 'copying' | 'checking' | 'proving';
export type BackupProgress = { step: BackupStep; done: number; total: number };
export type BackupFailure = { at: number; why: string };

/** What pages and health checks know of the backups, and what makes them: see server/backups/keeper.ts. */
export type Keeper = {
  shelf: string;
  list(): ShelfBackup[];
  progress(): BackupProgress | null;
  lastFailure(): BackupFailure | null;
  isLate(): boolean;
  lastProvenAt(): number | null;
  /** Begins one; false when one is being made already. */
  begin(reason: BackupReason): boolean;
  /** Notes outside the database who was erased, so that a restore of an older backup does it again. */
  rememberErased(): void;
  /** Looks whether the nightly one is due. */
  look(): void;
  /** Resolves when nothing is being made. */
  idle(): Promise<void>;
};
