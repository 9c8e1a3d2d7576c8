import { memoryUsage } from 'node:process'

/**
 * Bytes of heap and buffers that this thread holds once what is not needed is gone, where the collector may be called
 * (`--expose-gc`): buffers go in the background, after the objects that had them.
 */
export async function heldBytes(): Promise<number> {
  for (let i = 0; i < 3; i++) {
    globalThis.gc?.()
    await new Promise(done => setTimeout(done, 100))
  }
  const { heapUsed, arrayBuffers } = memoryUsage()
  return heapUsed + arrayBuffers
}
