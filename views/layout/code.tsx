import type { ComponentChildren } from 'preact';
import { classes } from './classes.ts';

/** Names are not words. Preact's types know a boolean here, and its renderer leaves out what is false. */
export const notTranslated = { translate: 'no' } as unknown as { translate: boolean };

/** A culture's code in the fixed-width face, on a small label; a link when it has an address. */
export function Code(props: { children: ComponentChildren; href?: string; large?: boolean }) {
  const name = classes('code', props.large && 'code-large');
  return props.href ? (
    <a class={name} href={props.href} {...notTranslated}>
      {props.children}
    </a>
  ) : (
    <span class={name} {...notTranslated}>
      {props.children}
    </span>
  );
}

/** A scientific name. */
export function Latin(props: { children: ComponentChildren }) {
  return (
    <i class="latin" lang="la" {...notTranslated}>
      {props.children}
    </i>
  );
}
