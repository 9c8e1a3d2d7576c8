import { type Answers, type Asked, answer, type Refused, refusal } from './work.ts'

type Told = { readonly value: Answers[Asked['do']] } | { readonly refused: Refused }

/** Runs in a worker: answers what it is asked, one after the other. */
export function serve(): void {
  self.onmessage = ({ data }: MessageEvent<Asked>) => {
    const told = toldOf(data)
    const buffers = 'value' in told ? buffersIn(told.value) : []
    self.postMessage(told, { transfer: buffers })
  }
}

function toldOf(asked: Asked): Told {
  try {
    return { value: answer(asked) }
  } catch (error) {
    return { refused: refusal(error) }
  }
}

/** What an answer holds in bulk: it changes hands, and is not copied. */
function buffersIn(value: unknown, found = new Set<ArrayBuffer>()): ArrayBuffer[] {
  if (ArrayBuffer.isView(value)) found.add(value.buffer as ArrayBuffer)
  else if (value instanceof Map || Array.isArray(value))
    for (const one of value.values()) buffersIn(one, found)
  else if (typeof value === 'object' && value !== null)
    for (const one of Object.values(value)) buffersIn(one, found)
  return [...found]
}

/** A rejection of {@link Helpers.ask}. */
export class Refusal extends Error {
  constructor(readonly refused: Refused) {
    super(refused.message)
  }
}

interface Waiting {
  readonly asked: Asked
  readonly done: (told: Told) => void
}

/** More of them than this gain nothing: the work comes in a few large pieces. */
const mostHelpers = 4

/**
 * Workers made of the page's own script, so that the window stays at hand; where there are none the window works itself.
 * What is asked first is begun first.
 */
export class Helpers {
  readonly #free: Worker[] = []
  readonly #waiting: Waiting[] = []
  #alive = 0

  constructor(script: string) {
    const count = Math.min(mostHelpers, Math.max(1, navigator.hardwareConcurrency || 1))
    try {
      const url = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }))
      for (; this.#alive < count; this.#alive++) this.#free.push(new Worker(url))
    } catch {
      // The window then answers.
    }
  }

  /** Rejects with a {@link Refusal}. */
  async ask<A extends Asked>(asked: A): Promise<Answers[A['do']]> {
    const told = await new Promise<Told>(done => {
      this.#waiting.push({ asked, done })
      this.#next()
    })
    if ('refused' in told) throw new Refusal(told.refused)
    return told.value as Answers[A['do']]
  }

  #next(): void {
    if (this.#alive === 0) {
      for (const { asked, done } of this.#waiting.splice(0)) done(toldOf(asked))
      return
    }
    while (this.#free.length > 0) {
      const next = this.#waiting.shift()
      if (next === undefined) return
      this.#give(this.#free.shift()!, next)
    }
  }

  #give(worker: Worker, waiting: Waiting): void {
    worker.onmessage = ({ data }: MessageEvent<Told>) => {
      this.#free.push(worker)
      waiting.done(data)
      this.#next()
    }
    worker.onerror = event => {
      // A worker that did not start leaves its work to the others.
      event.preventDefault()
      worker.terminate()
      this.#alive--
      this.#waiting.unshift(waiting)
      this.#next()
    }
    worker.postMessage(waiting.asked)
  }
}
