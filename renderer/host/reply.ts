import type { Reply } from '../../core/host/reply.ts'

/** A request that the host refused or could not do; the message is for the user. */
export class HostError extends Error {
  override readonly name = 'HostError'
  constructor(
    readonly code: string,
    message: string,
  ) {
    super(message)
  }
}

/** The value of a reply; throws {@link HostError} when it holds none. The host is trusted for the type. */
export function unwrap<T>(reply: Reply<unknown>): T {
  if (!reply.ok) throw new HostError(reply.code, reply.message)
  return reply.value as T
}
