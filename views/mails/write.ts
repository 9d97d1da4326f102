import type { Speaker } from '../words/speaker.ts';
import type { MailPart, MailText } from './letter.tsx';

export type MailLine = {
  groups: number;
  groupAdults: number;
  groupJuveniles: number;
  scientificName: string;
  commonName: string;
};

export type Sender = { name: string; address: string; email: string };

export type OrderMail = {
  number: number;
  customerName: string;
  sender: Sender;
};

const words = (text: string): MailPart => ({ kind: 'words', text });
const ownPage = (text: string): MailPart => ({ kind: 'page', text });

function animals(speaker: Speaker, { groupAdults, groupJuveniles }: MailLine): string {
  const adults = groupAdults > 0 ? speaker.counted('mail.adults', groupAdults) : '';
  const juveniles = groupJuveniles > 0 ? speaker.counted('mail.juveniles', groupJuveniles) : '';
  return adults && juveniles ? speaker.say('mail.and', { adults, juveniles }) : adults || juveniles;
}

function lineWords(speaker: Speaker, line: MailLine): string {
  const said = {
    groups: speaker.counted('mail.groups', line.groups),
    species: line.commonName ? `${line.scientificName} (${line.commonName})` : line.scientificName,
    animals: animals(speaker, line),
  };
  return line.groups === 1 ? speaker.say('mail.lineOfOne', said) : speaker.say('mail.line', said);
}

/** Greeting and farewell around what a letter says. */
function letter(speaker: Speaker, subject: string, mail: OrderMail, parts: readonly MailPart[]): MailText {
  const { sender } = mail;
  const signature = [speaker.say('mail.regards'), sender.name, sender.address, sender.email];
  return {
    subject,
    parts: [
      words(speaker.say('mail.dear', { name: mail.customerName })),
      ...parts,
      words(signature.filter((line) => line !== '').join('\n')),
    ],
  };
}

const subjectNumber = ({ number }: OrderMail) => ({ number: String(number) });

/** The order is confirmed: what is set aside, what it comes to, when it leaves. */
export function confirmedMail(
  speaker: Speaker,
  mail: OrderMail & {
    lines: readonly MailLine[];
    totalMinor: number;
    currency: string;
    leavesOn: string | null;
  },
): MailText {
  const { leavesOn } = mail;
  return letter(speaker, speaker.say('mail.confirmedSubject', subjectNumber(mail)), mail, [
    {
      kind: 'list',
      title: speaker.say('mail.confirmed'),
      items: mail.lines.map((line) => lineWords(speaker, line)),
    },
    words(speaker.say('mail.total', { amount: speaker.money(mail.totalMinor, mail.currency) })),
    words(leavesOn ? speaker.say('mail.leaves', { day: speaker.day(leavesOn) }) : speaker.say('mail.noDay')),
    words(speaker.say('mail.beThere')),
    ownPage(speaker.say('mail.yourPage')),
  ]);
}

/** The parcel is on its way: how to follow it and what to do when it arrives. */
export function sentMail(
  speaker: Speaker,
  mail: OrderMail & { sentOn: string; tracking: string; trackingLink: string; withCareSheets: boolean },
): MailText {
  const arrival = [
    ['arrival.unpack', 'arrival.unpackWords'],
    ['arrival.settle', 'arrival.settleWords'],
    ['arrival.water', 'arrival.waterWords'],
    ['arrival.worry', 'arrival.worryWords'],
  ] as const;
  const { tracking, trackingLink } = mail;
  return letter(speaker, speaker.say('mail.sentSubject', subjectNumber(mail)), mail, [
    words(speaker.say('mail.sent', { day: speaker.day(mail.sentOn) })),
    ...(tracking ? [words(speaker.say('mail.tracking', { number: tracking }))] : []),
    ...(trackingLink
      ? [{ kind: 'link' as const, text: speaker.say('mail.follow'), href: trackingLink }]
      : []),
    words(speaker.say('mail.beThere')),
    ...(mail.withCareSheets ? [words(speaker.say('mail.careEnclosed'))] : []),
    {
      kind: 'list',
      title: speaker.say('arrival.title'),
      items: arrival.map(([head, said]) => `${speaker.say(head)}: ${speaker.say(said)}`),
    },
    ownPage(speaker.say('mail.tellArrival')),
  ]);
}

/** The parcel waits for the weather, until that day. */
export function heldMail(speaker: Speaker, mail: OrderMail & { leavesOn: string | null }): MailText {
  const { leavesOn } = mail;
  return letter(speaker, speaker.say('mail.heldSubject', subjectNumber(mail)), mail, [
    words(speaker.say('mail.held')),
    words(
      leavesOn ? speaker.say('mail.heldUntil', { day: speaker.day(leavesOn) }) : speaker.say('mail.noDay'),
    ),
    words(speaker.say('mail.beThere')),
    ownPage(speaker.say('mail.yourPage')),
  ]);
}

/** From the business to itself: it can send. */
export function testMail(speaker: Speaker, sender: Sender): MailText {
  return {
    subject: speaker.say('mail.testSubject'),
    parts: [words(speaker.say('mail.test', { business: sender.name }))],
  };
}

/** From the service to its owner: the disk with the records is getting full. */
export function diskMail(speaker: Speaker, leftMb: number): MailText {
  return {
    subject: speaker.say('mail.diskSubject'),
    parts: [words(speaker.say('mail.disk', { left: String(leftMb) }))],
  };
}

/** From the service to its owner: so many requests from the public list wait for an answer. */
export function requestsMail(speaker: Speaker, waiting: number, address: string | null): MailText {
  return {
    subject: speaker.say('mail.requestsSubject'),
    parts: [
      words(speaker.counted('mail.requests', waiting)),
      ...(address ? [{ kind: 'link' as const, text: speaker.say('mail.requestsLook'), href: address }] : []),
    ],
  };
}

/** From the service to its owner: no backup has been proven for too long; `provenOn` is null where none ever was. */
export function backupMail(
  speaker: Speaker,
  { provenOn, why }: { provenOn: string | null; why: string | null },
): MailText {
  return {
    subject: speaker.say('mail.backupSubject'),
    parts: [
      words(
        provenOn
          ? speaker.say('mail.backup', { day: speaker.day(provenOn) })
          : speaker.say('mail.backupNever'),
      ),
      ...(why ? [words(speaker.say('mail.backupWhy', { why }))] : []),
      words(speaker.say('mail.backupLook')),
    ],
  };
}

export type AccountNews = 'Device' | 'Password' | 'CodeOn' | 'CodeOff' | 'Codes';

/** To a person who works here: something about their own account that somebody else may have done. */
export function accountMail(
  speaker: Speaker,
  { news, moment, name, business }: { news: AccountNews; moment: string; name: string; business: string },
): MailText {
  return {
    subject: speaker.say(`mail.account${news}Subject`),
    parts: [
      words(speaker.say(`mail.account${news}`, { moment, name, business })),
      words(`${speaker.say('mail.accountYou')} ${speaker.say('mail.accountNotYou')}`),
    ],
  };
}
