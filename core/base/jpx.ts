import { JpxImage } from 'pdfjs-dist/legacy/image_decoders/pdf.image_decoders.mjs'

/** Samples of a picture, 8 bits each, interleaved, row by row, y down. */
export interface DecodedPicture {
  readonly width: number
  readonly height: number
  readonly components: number
  readonly data: Uint8Array
}

/** @param wasm gives the decoder's program, which is started with the first picture and kept */
export function openJpx(
  wasm: () => Promise<Uint8Array>,
): (bytes: Uint8Array, indexed: boolean) => Promise<DecodedPicture> {
  return async (bytes, indexed) => {
    // Read once, by the first picture of all; setting it again changes nothing.
    JpxImage.setOptions({
      useWasm: true,
      useWorkerFetch: false,
      wasmUrl: null,
      handler: { sendWithPromise: wasm },
    })
    const { width, height, componentsCount } = JpxImage.parseImageProperties(bytes)
    const data = await JpxImage.decode(bytes, {
      numComponents: componentsCount,
      isIndexedColormap: indexed,
      smaskInData: false,
      reducePower: 0,
    })
    const components = data.length / (width * height)
    if (!Number.isInteger(components) || components < 1)
      throw new Error(`${data.length} samples of ${width} × ${height} pixels`)
    return { width, height, components, data: new Uint8Array(data.buffer, data.byteOffset, data.length) }
  }
}
