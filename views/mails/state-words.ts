import type { MailView } from './part-mails.tsx';

/** What became of a mail, in a few words. */
export const mailStateWords: Record<MailView['state'], string> = {
  waiting: 'waiting to go out',
  sending: 'being handed over',
  sent: 'sent',
  unsure: 'may have arrived',
  refused: 'refused',
  'too late': 'not sent in time',
  stopped: 'stopped',
};

export const mailKindWords: Record<MailView['kind'], string> = {
  'order confirmed': 'Order confirmed',
  'order sent': 'Parcel sent',
  'order held': 'Waits for the weather',
  test: 'Test',
  warning: 'Warning of the service',
  requests: 'Requests came in',
  account: 'Account changed',
};

/** Nothing more happens to these by themselves. */
export const needsSomebody = (state: MailView['state']) =>
  state === 'unsure' || state === 'refused' || state === 'too late';

/** What a person should know about this state and can do. */
export function adviceOn({ state, answer }: Pick<MailView, 'state' | 'answer'>): string {
  const said = answer ? ` The last answer: ${answer}` : '';
  if (state === 'unsure')
    return `The mail server had the whole letter, and then the line broke: it may have arrived. Ask the customer before you send it again.${said}`;
  if (state === 'refused')
    return `The mail server will not take it. Look at the customer's address, mend it, then send it again.${said}`;
  if (state === 'too late')
    return `The mail server could not be reached in time, so it was left. Send it again if it is still news.${said}`;
  if (state === 'waiting' && answer) return `Not sent yet; it is tried again by itself.${said}`;
  return '';
}
