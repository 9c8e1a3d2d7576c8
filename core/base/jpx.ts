import { JpxImage } from 'pdfjs-dist/legacy/image_decoders/pdf.image_decoders.mjs'

/** Samples of a picture, 8 bits each, interleaved, row by row, y down. */
export interface DecodedPicture {
  readonly width: number
  readonly height: number
  readonly components: number
  readonly data: Uint8Array
}

/** Samples that one picture may have. */
const mostSamples = 2 ** 28

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
    if (!(width > 0 && height > 0 && width * height * componentsCount <= mostSamples))
      throw new Error(`it has ${width} × ${height} pixels of ${componentsCount} components`)
    const data = await decoded(bytes, componentsCount, indexed)
    const components = data.length / (width * height)
    if (!Number.isInteger(components) || components < 1)
      throw new Error(`${data.length} samples of ${width} × ${height} pixels`)
    return { width, height, components, data: new Uint8Array(data.buffer, data.byteOffset, data.length) }
  }
}

async function decoded(bytes: Uint8Array, numComponents: number, indexed: boolean) {
  try {
    return await JpxImage.decode(bytes, {
      numComponents,
      isIndexedColormap: indexed,
      smaskInData: false,
      reducePower: 0,
    })
  } catch (error) {
    // What the program was in the middle of is gone with it.
    JpxImage.cleanup()
    throw error
  }
}
