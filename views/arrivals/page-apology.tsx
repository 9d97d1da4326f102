import type { Speaker } from '../words/speaker.ts';
import { CustomerFrame } from './customer-frame.tsx';

export type ApologyKind = 'gone' | 'busy' | 'fault' | 'tooLarge' | 'paused';

export type ApologyPageProps = {
  speaker: Speaker;
  kind: ApologyKind;
  businessName: string;
  assetVersion: string;
  /** By which the owner finds the request in the log, should the customer write to them. */
  requestId: string;
};

const words = {
  gone: ['page.goneTitle', 'page.gone'],
  busy: ['page.busyTitle', 'page.busy'],
  fault: ['page.faultTitle', 'page.fault'],
  paused: ['page.pausedTitle', 'page.paused'],
  tooLarge: ['page.faultTitle', 'page.photoTooLarge'],
} as const;

/** What a customer reads where there is nothing, or nothing just now. */
export function ApologyPage({ speaker, kind, businessName, assetVersion, requestId }: ApologyPageProps) {
  const [title, sentence] = words[kind];
  return (
    <CustomerFrame
      language={speaker.language}
      businessName={businessName}
      title={speaker.say(title)}
      assetVersion={assetVersion}
    >
      <p>{speaker.say(sentence)}</p>
      <p class="quiet">{speaker.say('page.requestNumber', { number: requestId })}</p>
    </CustomerFrame>
  );
}
