import type { ComponentChildren } from 'preact';
import { classes } from './classes.ts';

/** A culture's code in the fixed-width face, on a small label; a link when it has an address. */
export function Code(props: { children: ComponentChildren; href?: string; large?: boolean }) {
  const name = classes('code', props.large && 'code-large');
  return props.href ? (
    <a class={name} href={props.href} translate="no">
      {props.children}
    </a>
  ) : (
    <span class={name} translate="no">
      {props.children}
    </span>
  );
}

/** A scientific name. */
export function Latin(props: { children: ComponentChildren }) {
  return (
    <i class="latin" lang="la" translate="no">
      {props.children}
    </i>
  );
}
