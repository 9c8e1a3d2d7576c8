import type { Host } from '../../core/host/contract.ts'
import type { Reply } from '../../core/host/reply.ts'
import { decodeWire } from '../../core/host/wire.ts'
import { HostError, unwrap } from './reply.ts'

/** The host behind the loopback server that sent this page; the browser adds the cookie and the Origin. */
export function httpHost(): Host {
  const request = async (name: string, input: unknown) =>
    unwrap(await post(`/request/${name}`, 'application/json', JSON.stringify(input)))
  const adopt: Host['adopt'] = async file => {
    if (!(file instanceof File)) throw new TypeError('expected a File')
    return unwrap(
      await post(`/adopt?name=${encodeURIComponent(file.name)}`, 'application/octet-stream', file),
    )
  }
  return Object.assign(request, { adopt }) as Host
}

async function post(path: string, type: string, body: string | File): Promise<Reply<unknown>> {
  const response = await fetch(path, { method: 'POST', headers: { 'Content-Type': type }, body }).catch(
    () => {
      throw new HostError(
        'host-gone',
        'rakelight has stopped or the connection broke. Start it again, then open the address it prints',
      )
    },
  )
  if (!response.ok) throw new HostError('refused', `rakelight refused the request: ${await response.text()}`)
  return decodeWire(new Uint8Array(await response.arrayBuffer())) as Reply<unknown>
}
