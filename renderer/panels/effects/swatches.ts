import { useEffect, useState } from 'react'
import type { Swatch } from '../../../core/export/swatch.ts'

export interface SwatchAsked {
  readonly kind: string
}
export interface SwatchTold {
  readonly kind: string
  readonly swatch: Swatch | null
}

/** One worker for all swatches, made when the first is wanted; a swatch is drawn once. */
const made = new Map<string, Promise<Swatch | null>>()
const waiting = new Map<string, (swatch: Swatch | null) => void>()
let worker: Worker | null = null

function swatchOf(kind: string): Promise<Swatch | null> {
  const known = made.get(kind)
  if (known !== undefined) return known
  const coming = new Promise<Swatch | null>(resolve => {
    waiting.set(kind, resolve)
    const asked: SwatchAsked = { kind }
    hired().postMessage(asked)
  })
  made.set(kind, coming)
  return coming
}

function hired(): Worker {
  if (worker !== null) return worker
  worker = new Worker(new URL('./swatch.worker.ts', import.meta.url), { type: 'module' })
  worker.onmessage = ({ data }: MessageEvent<SwatchTold>) => {
    waiting.get(data.kind)?.(data.swatch)
    waiting.delete(data.kind)
  }
  worker.onerror = () => {
    for (const tell of waiting.values()) tell(null)
    waiting.clear()
  }
  return worker
}

/** The swatch of a kind once it is drawn. */
export function useSwatch(kind: string): Swatch | null {
  const [swatch, setSwatch] = useState<Swatch | null>(null)
  useEffect(() => {
    let wanted = true
    setSwatch(null)
    void swatchOf(kind).then(drawn => {
      if (wanted) setSwatch(drawn)
    })
    return () => {
      wanted = false
    }
  }, [kind])
  return swatch
}
