import type { Gamut } from '../../core/color/rgb.ts'

/** Pixels as the graphics card gives them: RGBA, 8 bits, top row first. */
export interface ReadPicture {
  readonly width: number
  readonly height: number
  readonly rgba: Uint8Array<ArrayBuffer>
  /** Alpha means something; else the picture covers its whole frame. */
  readonly clear: boolean
}

export type Packing =
  | { readonly kind: 'png'; readonly picture: ReadPicture; readonly gamut: Gamut }
  | {
      readonly kind: 'gif'
      readonly picture: ReadPicture
      readonly index: number
      readonly rate: number
      readonly loops: boolean
    }

export type PackAsked = Packing & { readonly id: number }
export type PackTold =
  | { readonly id: number; readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly id: number; readonly error: string }

/** Workers that turn pictures into bytes of a file. */
export interface Packers {
  readonly count: number
  /** Takes the picture's pixels away. */
  pack(packing: Packing): Promise<Uint8Array<ArrayBuffer>>
  close(): void
}

/** As many as cores beside the window's own, four at most: the graphics card gives no more to do. */
export function openPackers(count = Math.max(1, Math.min(4, navigator.hardwareConcurrency - 1))): Packers {
  const waiting = new Map<
    number,
    { resolve: (bytes: Uint8Array<ArrayBuffer>) => void; reject: (error: Error) => void }
  >()
  const failAll = (error: Error) => {
    for (const asked of waiting.values()) asked.reject(error)
    waiting.clear()
  }
  const workers = Array.from({ length: count }, () => {
    const worker = new Worker(new URL('./packing.worker.ts', import.meta.url), { type: 'module' })
    worker.onmessage = ({ data }: MessageEvent<PackTold>) => {
      const asked = waiting.get(data.id)
      waiting.delete(data.id)
      if ('error' in data) asked?.reject(new Error(data.error))
      else asked?.resolve(data.bytes)
    }
    worker.onerror = event => failAll(new Error(event.message))
    return worker
  })
  let last = 0
  return {
    count,
    pack: packing =>
      new Promise((resolve, reject) => {
        const id = ++last
        waiting.set(id, { resolve, reject })
        workers[id % count]!.postMessage({ ...packing, id } satisfies PackAsked, [
          packing.picture.rgba.buffer,
        ])
      }),
    close: () => {
      for (const worker of workers) worker.terminate()
      failAll(new Error('closed'))
    },
  }
}
