import { type SwatchTables, swatchOf } from '../../../core/export/swatch.ts'
import type { SwatchAsked, SwatchTold } from './swatches.ts'

/** Off the window's thread: swatches of effects, one after another. */
const tables: SwatchTables = new Map()

self.onmessage = ({ data }: MessageEvent<SwatchAsked>) => {
  const told: SwatchTold = { kind: data.kind, swatch: null }
  try {
    self.postMessage({ ...told, swatch: swatchOf({ kind: data.kind, parameters: {} }, tables) })
  } catch {
    // A kind without a swatch is shown by its name alone.
    self.postMessage(told)
  }
}
