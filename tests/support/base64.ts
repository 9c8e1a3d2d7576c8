/** Bytes as text and back, alike in Node and a window; small pieces, since `apply` takes only so many arguments. */
export function toBase64(bytes: Uint8Array): string {
  let text = ''
  for (let i = 0; i < bytes.length; i += 32768) text += String.fromCharCode(...bytes.subarray(i, i + 32768))
  return btoa(text)
}

export function fromBase64(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text), c => c.charCodeAt(0))
}

export const floatsToBase64 = (data: Float32Array): string =>
  toBase64(new Uint8Array(data.buffer, data.byteOffset, data.byteLength))

export const floatsFromBase64 = (text: string): Float32Array => new Float32Array(fromBase64(text).buffer)

/** JSON in which Float32Arrays survive. */
export function packJson(value: unknown): string {
  return JSON.stringify(value, (_, v) => (v instanceof Float32Array ? { float32: floatsToBase64(v) } : v))
}

export function unpackJson<T>(text: string): T {
  return JSON.parse(text, (_, v) =>
    typeof v === 'object' && v !== null && typeof v.float32 === 'string' ? floatsFromBase64(v.float32) : v,
  ) as T
}
