import { type Answers, type Asked, answer, type Refused, refusal } from './work.ts'

type Told = { readonly value: Answers[Asked['do']] } | { readonly refused: Refused }

/** Runs in a worker: answers what it is asked, one after the other. */
export function serve(): void {
  self.onmessage = ({ data }: MessageEvent<Asked>) => {
    let told: Told
    try {
      told = { value: answer(data) }
    } catch (error) {
      told = { refused: refusal(error) }
    }
    self.postMessage(told)
  }
}

/** A rejection of {@link Helper.ask}. */
export class Refusal extends Error {
  constructor(readonly refused: Refused) {
    super(refused.message)
  }
}

/** A worker made of the page's own script, so that the window stays at hand; without workers the window works itself. */
export class Helper {
  #worker: Worker | null
  #last: Promise<unknown> = Promise.resolve()

  constructor(script: string) {
    try {
      const url = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }))
      this.#worker = new Worker(url)
    } catch {
      this.#worker = null
    }
  }

  /** Rejects with a {@link Refusal}. */
  ask<A extends Asked>(asked: A): Promise<Answers[A['do']]> {
    const next = this.#last.then(
      () => this.#one(asked),
      () => this.#one(asked),
    )
    this.#last = next
    return next as Promise<Answers[A['do']]>
  }

  async #one(asked: Asked): Promise<Answers[Asked['do']]> {
    const told = this.#worker === null ? null : await this.#sent(this.#worker, asked)
    // A worker that did not start leaves its work to the window.
    if (told === null) return here(asked)
    if ('refused' in told) throw new Refusal(told.refused)
    return told.value
  }

  #sent(worker: Worker, asked: Asked): Promise<Told | null> {
    return new Promise(done => {
      worker.onmessage = ({ data }: MessageEvent<Told>) => done(data)
      worker.onerror = event => {
        event.preventDefault()
        worker.terminate()
        this.#worker = null
        done(null)
      }
      worker.postMessage(asked)
    })
  }
}

function here(asked: Asked): Answers[Asked['do']] {
  try {
    return answer(asked)
  } catch (error) {
    throw new Refusal(refusal(error))
  }
}
