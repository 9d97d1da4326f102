import { z } from 'zod';
import { neededLine } from '../text.ts';

/** A code as somebody types or chooses it; whether there is such a culture is asked later. */
const someCode = neededLine(40, 'Write its code.').optional();

/** Where feeders came from, and what was used before without being cleaned: on every form of work at a culture. */
export const contactFields = {
  feederFrom: someCode,
  tools: z.literal('yes').optional(),
  toolsFrom: someCode,
};
export type ContactFields = { feederFrom?: string; tools?: 'yes'; toolsFrom?: string };

export const toolsFields = { tools: contactFields.tools, toolsFrom: contactFields.toolsFrom };
