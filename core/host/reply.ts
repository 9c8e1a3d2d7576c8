/** How a request ends, whichever road it took. */
export type Reply<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly code: string; readonly message: string }

/** Code of a reply to work that the user cancelled. */
export const cancelledCode = 'cancelled'
