import { Socket } from 'node:net'
import { vi } from 'vitest'

/**
 * Cuts this process off: a request by any road throws, and is counted.
 * @returns how often any of them was tried so far
 */
export function cutOff(): () => number {
  let tried = 0
  const refuse = (): never => {
    tried++
    throw new Error('a file made the program reach out')
  }
  vi.stubGlobal('fetch', refuse)
  vi.stubGlobal('XMLHttpRequest', refuse)
  vi.stubGlobal('WebSocket', refuse)
  // Every request over a network goes through a socket, whatever library makes it.
  vi.spyOn(Socket.prototype, 'connect').mockImplementation(refuse)
  return () => tried
}
