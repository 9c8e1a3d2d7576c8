import { strFromU8, strToU8, unzlibSync, zlibSync } from 'fflate'
import { fromBase64, toBase64 } from './base64.ts'

const kinds = { Uint8Array, Uint16Array, Int16Array, Int32Array, Float32Array, Float64Array } as const
type Kind = keyof typeof kinds

/** A value of plain objects, Maps and typed arrays as text, for a page that cannot read files. */
export function packValue(value: unknown): string {
  const text = JSON.stringify(value, (_, v) => {
    if (v instanceof Map) return { map: [...v] }
    if (!ArrayBuffer.isView(v)) return v
    const kind = v.constructor.name
    return { kind, bytes: toBase64(new Uint8Array(v.buffer, v.byteOffset, v.byteLength)) }
  })
  return toBase64(zlibSync(strToU8(text), { level: 6 }))
}

export function unpackValue<T>(packed: string): T {
  return JSON.parse(strFromU8(unzlibSync(fromBase64(packed))), (_, v) => {
    if (typeof v !== 'object' || v === null) return v
    if (Array.isArray(v.map) && Object.keys(v).length === 1) return new Map(v.map)
    if (typeof v.kind !== 'string' || typeof v.bytes !== 'string') return v
    return new kinds[v.kind as Kind](fromBase64(v.bytes).buffer)
  }) as T
}
