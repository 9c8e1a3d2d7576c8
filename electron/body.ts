import type { IncomingMessage } from 'node:http'

/**
 * A request's body, piece by piece. Throws what `tooLong` makes as soon as the announced or the received length
 * passes `limit` bytes. The connection stays open when the reader stops early, so that an answer can be sent.
 */
export async function* body(
  request: IncomingMessage,
  limit: number,
  tooLong: () => Error,
): AsyncGenerator<Uint8Array> {
  if (Number(request.headers['content-length'] ?? 0) > limit) throw tooLong()
  let length = 0
  for await (const chunk of request.iterator({ destroyOnReturn: false }) as AsyncIterable<Uint8Array>) {
    length += chunk.length
    if (length > limit) throw tooLong()
    yield chunk
  }
}
