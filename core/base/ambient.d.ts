/** The few names that Node and a window share. Anything else is out of reach of core. */
declare class TextDecoder {
  constructor(label?: string, options?: { fatal?: boolean; ignoreBOM?: boolean })
  decode(input?: ArrayBufferView | ArrayBuffer): string
}
declare class TextEncoder {
  encode(input?: string): Uint8Array<ArrayBuffer>
}
interface AbortSignal {
  readonly aborted: boolean
}
declare namespace WebAssembly {
  class Module {
    constructor(bytes: ArrayBuffer | ArrayBufferView)
  }
  class Instance {
    constructor(module: Module, imports?: object)
    readonly exports: Record<string, unknown>
  }
}
