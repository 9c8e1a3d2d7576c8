import type { PlaneData } from '../material/map.ts'

/** How one plane lies in the file: `unpackPlane` makes it whole again, byte for byte. */
export interface PackedPlane {
  readonly name: string
  readonly samples: SampleKind
  readonly components: number
  /** Samples of one component in a row of the picture that is packed, and its rows. */
  readonly columns: number
  readonly rows: number
  /** Of a tiled plane: the side of its tiles, which are stacked in the order of their blocks, and the plane of their numbers. */
  readonly tiles: { readonly side: number; readonly index: string } | null
  /** `foretold`: component after component by `codeSamples`, in one run of bytes. */
  readonly packing: 'foretold'
  /** Of the packed bytes. */
  readonly bytes: number
  readonly sha256: string
}

export type SampleKind = 'u8' | 'u16' | 'i16'

export interface Packed {
  readonly entry: PackedPlane
  readonly bytes: Uint8Array<ArrayBuffer>
}

/** One plane before it is packed. */
export interface PlainPlane extends Pick<PackedPlane, 'name' | 'components' | 'columns' | 'rows' | 'tiles'> {
  readonly data: PlaneData
}
