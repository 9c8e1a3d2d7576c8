import { type Transferable, Worker } from 'node:worker_threads'
import { BadInput } from '../core/base/finding.ts'
import { Cancelled, type Task } from '../core/base/task.ts'
import { unpackError, type WorkMessage, type WorkReply } from './worker-message.ts'
import type { Crafts } from './worker-side.ts'

/** Work waiting for a worker, or under way. */
interface Piece {
  readonly name: string
  readonly input: unknown
  readonly transfer: readonly Transferable[]
  readonly task: Task | undefined
  readonly stop: Int32Array
  readonly resolve: (value: unknown) => void
  readonly reject: (error: Error) => void
}

interface Hand {
  readonly worker: Worker
  piece: Piece | null
}

/**
 * A few worker threads of one kind. Work waits in line; what comes out does not depend on which worker did it.
 * A worker that dies fails its own piece of work and is replaced when the next one comes.
 */
export class WorkerPool<C extends Crafts> {
  readonly #hands: Hand[] = []
  readonly #waiting: Piece[] = []
  #closed = false
  #id = 0

  /**
   * @param file of the built worker, absolute
   * @param size threads at most; they start when there is work
   * @param setUp work that a new worker does before any other
   * @param heapMb what a worker may hold beside buffers; the machine's own limit when left out
   */
  constructor(
    readonly file: string,
    readonly size: number,
    readonly setUp?: { readonly name: keyof C & string; readonly input: unknown },
    readonly heapMb?: number,
  ) {}

  /** Does one piece of work. Rejects with BadInput, Cancelled, or Error when the worker failed. */
  run<N extends keyof C & string>(
    name: N,
    input: C[N]['input'],
    task?: Task,
    transfer: readonly Transferable[] = [],
  ): Promise<C[N]['value']> {
    const stop = new Int32Array(new SharedArrayBuffer(4))
    const give = () => void Atomics.store(stop, 0, 1)
    if (task?.signal?.aborted) return Promise.reject(new Cancelled())
    if (this.#closed) return Promise.reject(new Cancelled())
    task?.signal?.addEventListener('abort', give, { once: true })
    return new Promise<unknown>((resolve, reject) => {
      this.#waiting.push({ name, input, transfer, task, stop, resolve, reject })
      this.#next()
    }).finally(() => task?.signal?.removeEventListener('abort', give)) as Promise<C[N]['value']>
  }

  /** Gives up all work and ends the threads. */
  async close(): Promise<void> {
    this.#closed = true
    const hands = this.#hands.splice(0)
    for (const piece of this.#waiting.splice(0)) piece.reject(new Cancelled())
    for (const hand of hands) {
      hand.piece?.reject(new Cancelled())
      // An answer that still comes must not let go of the thread: the process could end before it has.
      hand.piece = null
    }
    await Promise.all(hands.map(hand => hand.worker.terminate()))
  }

  #next(): void {
    while (this.#waiting.length > 0) {
      const hand = this.#hands.find(one => one.piece === null) ?? this.#hire()
      if (hand === null) return
      const piece = this.#waiting.shift()!
      if (Atomics.load(piece.stop, 0) === 1) piece.reject(new Cancelled())
      else this.#hand(hand, piece)
    }
  }

  #hire(): Hand | null {
    if (this.#hands.length >= this.size) return null
    const limits =
      this.heapMb === undefined ? {} : { resourceLimits: { maxOldGenerationSizeMb: this.heapMb } }
    const hand: Hand = { worker: new Worker(this.file, limits), piece: null }
    hand.worker.on('message', (reply: WorkReply) => this.#heard(hand, reply))
    hand.worker.on('error', error => this.#lost(hand, error))
    hand.worker.on('exit', code => this.#lost(hand, new Error(`a worker stopped (code ${code})`)))
    hand.worker.unref()
    this.#hands.push(hand)
    if (this.setUp !== undefined) {
      const stop = new Int32Array(new SharedArrayBuffer(4))
      // Answered before anything that is sent later; an answer of its own is of no interest.
      hand.worker.postMessage({ id: 0, ...this.setUp, stop } satisfies WorkMessage)
    }
    return hand
  }

  #hand(hand: Hand, piece: Piece): void {
    hand.piece = piece
    hand.worker.ref()
    const { name, input, stop, transfer } = piece
    hand.worker.postMessage({ id: ++this.#id, name, input, stop } satisfies WorkMessage, [...transfer])
  }

  #heard(hand: Hand, reply: WorkReply): void {
    const { piece } = hand
    if (reply.id === 0) {
      if (reply.kind === 'error') this.#lost(hand, unpackError(reply.error))
      return
    }
    if (piece === null) return
    if (reply.kind === 'progress') {
      piece.task?.progress?.(reply.done, reply.what)
      return
    }
    hand.piece = null
    hand.worker.unref()
    if (reply.kind === 'value') piece.resolve(reply.value)
    else piece.reject(unpackError(reply.error))
    this.#next()
  }

  #lost(hand: Hand, error: Error): void {
    const at = this.#hands.indexOf(hand)
    if (at === -1) return
    this.#hands.splice(at, 1)
    void hand.worker.terminate()
    hand.piece?.reject(isOutOfMemory(error) ? outOfMemory() : error)
    this.#next()
  }
}

const isOutOfMemory = (error: Error): boolean => 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY'

function outOfMemory(): BadInput {
  return new BadInput(
    'out-of-memory',
    'this machine',
    'memory',
    'there is not enough of it for this work',
    'Close other programs, or choose a lower resolution',
  )
}
