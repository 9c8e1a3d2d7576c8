import { parentPort, type Transferable } from 'node:worker_threads'
import type { Task } from '../core/base/task.ts'
import { packError, type WorkMessage, type WorkReply } from './worker-message.ts'

/** What a piece of work gives back; `transfer` moves buffers instead of copying them. */
export interface Done<T> {
  readonly value: T
  readonly transfer?: readonly Transferable[]
}

/** The kinds of work a worker knows: what goes in and what comes out of each. */
export type Crafts = Readonly<Record<string, { readonly input: unknown; readonly value: unknown }>>

export type Handlers<C extends Crafts> = {
  readonly [N in keyof C]: (input: C[N]['input'], task: Task) => Promise<Done<C[N]['value']>>
}

/** Progress messages are no use to anyone faster than this, ms. */
const pause = 40

/** Serves the pool that started this worker; to be called once, at the end of the worker's own file. */
export function serveWork<C extends Crafts>(handlers: Handlers<C>): void {
  const port = parentPort
  if (port === null) throw new Error('this file is a worker and has no use on its own')
  port.on('message', async (message: WorkMessage) => {
    const { id, name, input, stop } = message
    const reply = (answer: WorkReply, transfer: readonly Transferable[] = []) =>
      port.postMessage(answer, [...transfer])
    let last = 0
    const task: Task = {
      signal: stopSignal(stop),
      progress: (done, what) => {
        const now = Date.now()
        if (done < 1 && now - last < pause) return
        last = now
        reply({ id, kind: 'progress', done, what })
      },
    }
    try {
      const handler = handlers[name]
      if (handler === undefined) throw new Error(`no such work "${name}"`)
      const { value, transfer } = await handler(input, task)
      reply({ id, kind: 'value', value }, transfer)
    } catch (error) {
      reply({ id, kind: 'error', error: packError(error) })
    }
  })
}

/**
 * A signal that another thread sets through shared memory: it is seen in the middle of a loop that never waits,
 * where no message would arrive. Only `aborted` is ever read of it.
 */
function stopSignal(stop: Int32Array): AbortSignal {
  const signal = new AbortController().signal
  Object.defineProperty(signal, 'aborted', { get: () => Atomics.load(stop, 0) === 1 })
  return signal
}
