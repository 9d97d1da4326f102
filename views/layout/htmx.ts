/** The htmx attributes the pages use. Values are plain strings; nothing in them is evaluated. */
export type HtmxAttributes = {
  'hx-get'?: string;
  'hx-post'?: string;
  'hx-target'?: string;
  'hx-swap'?: string;
  'hx-select'?: string;
  'hx-select-oob'?: string;
  'hx-swap-oob'?: string;
  'hx-trigger'?: string;
  'hx-include'?: string;
  'hx-indicator'?: string;
  'hx-disabled-elt'?: string;
  'hx-sync'?: string;
  'hx-push-url'?: string;
  'hx-replace-url'?: string;
  'hx-vals'?: string;
  'hx-confirm'?: string;
};

/** Takes the htmx attributes out of a component's props, to hand them on to its element. */
export function htmxOf(props: HtmxAttributes): HtmxAttributes {
  const own: Record<string, string> = {};
  for (const [name, value] of Object.entries(props)) {
    if (name.startsWith('hx-') && typeof value === 'string') own[name] = value;
  }
  return own;
}

/**
 * Read by htmx from a meta element. Nothing is evaluated and no style is injected (the content security
 * policy forbids both); 422 brings a form back with its messages, so it is swapped like a success.
 */
export const htmxConfig = {
  allowEval: false,
  includeIndicatorStyles: false,
  allowScriptTags: false,
  selfRequestsOnly: true,
  historyCacheSize: 0,
  refreshOnHistoryMiss: true,
  defaultSwapStyle: 'outerHTML',
  // Nothing here moves by a transition, so there is nothing to settle a paint later.
  defaultSettleDelay: 0,
  scrollIntoViewOnBoost: false,
  timeout: 15_000,
  responseHandling: [
    { code: '204', swap: false },
    { code: '[23]..', swap: true },
    { code: '422', swap: true },
    { code: '[45]..', swap: false, error: true },
  ],
};
