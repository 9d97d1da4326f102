import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';

const ticked = z.literal('yes').optional();

/** How the list is shown to strangers. */
export const offerSettingsForm = z.object({
  isOn: ticked,
  mayBeFound: ticked,
  takesRequests: ticked,
  mostShown: typedNumber({ min: 1, max: 99, whole: true }),
});
