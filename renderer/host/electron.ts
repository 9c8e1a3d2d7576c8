import type { Bridge } from '../../core/host/bridge.ts'
import type { Host } from '../../core/host/contract.ts'
import { unwrap } from './reply.ts'

/** The host behind the desktop window. */
export function electronHost(bridge: Bridge): Host {
  const request = async (name: string, input: unknown) => unwrap(await bridge.request(name, input))
  const adopt: Host['adopt'] = async file => unwrap(await bridge.adopt(file))
  return Object.assign(request, { adopt }) as Host
}
