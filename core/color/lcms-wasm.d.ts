/** The part of the colour engine that profile.ts uses. Handles are addresses inside the engine; 0 means it failed. */
declare module 'lcms-wasm' {
  export interface Engine {
    readonly HEAPU8: Uint8Array<ArrayBuffer>
    _malloc(bytes: number): number
    _free(address: number): void
    _cmsOpenProfileFromMem(address: number, bytes: number): number
    cmsCreate_sRGBProfile(): number
    cmsCreateLab4Profile(whitePoint: null): number
    cmsCloseProfile(profile: number): void
    cmsGetColorSpaceASCII(profile: number): string | null
    cmsGetProfileInfoASCII(profile: number, info: number, language: string, country: string): string
    cmsCreateTransform(
      input: number,
      inputFormat: number,
      output: number,
      outputFormat: number,
      intent: number,
      flags: number,
    ): number
    cmsDeleteTransform(transform: number): void
    _cmsDoTransform(transform: number, input: number, output: number, pixels: number): void
  }
  export function instantiate(options?: {
    wasmBinary?: Uint8Array
    locateFile?: (name: string) => string
  }): Promise<Engine>
}
