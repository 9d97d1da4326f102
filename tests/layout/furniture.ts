import type { Furniture } from '../../views/layout/furniture.ts';

/** A page's furniture for the tests of what is drawn; no real person or shop. */
export function furniture(over: Partial<Furniture> = {}): Furniture {
  return {
    businessName: 'Demo Shelf',
    who: { name: 'Ina', role: 'owner' },
    nav: 'cultures',
    csrfToken: 'token-1',
    formKey: 'key-1',
    notice: null,
    scheme: 'system',
    assetVersion: 'v1',
    ...over,
  };
}
