import type { Answer } from './answers.ts';
import type { Call, StaffCall } from './call.ts';

type Common = { method: 'GET' | 'POST'; path: string; nav?: string; beforeSecondFactor?: true };
/** Whose data somebody reads there, such as 'customer :id' with the address' own number: it is written down (reads.ts). */
type Personal = { shows?: string };
/** A file comes along: the body may be large and is read as multipart. */
type Uploading = { upload?: { maxBytes: number } };

/** `helper` lets owners in too. There is no default: a route without access stops the start. */
export type Route =
  | (Common & { access: 'anyone'; beforeSetUp?: true; handler: (call: Call) => Answer | Promise<Answer> })
  | (Common &
      Personal &
      Uploading & { access: 'helper' | 'owner'; handler: (call: StaffCall) => Answer | Promise<Answer> });

export type RouteTable = readonly Route[];
