import { type FaultKind, type RowFault, rowFault } from './faults.ts';
import type { NoticeKind } from './notices.ts';

/** Everything that is said about one row while it is read. */
export class Findings {
  readonly faults: RowFault[] = [];
  readonly notices: { kind: NoticeKind; message: string }[] = [];

  fault(kind: FaultKind, reason: string, column: string | null = null, mend?: string): null {
    this.faults.push(rowFault(kind, reason, column, mend));
    return null;
  }

  notice(kind: NoticeKind, message: string): void {
    this.notices.push({ kind, message });
  }
}
