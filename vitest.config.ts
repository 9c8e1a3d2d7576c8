import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['tests/{core,electron,renderer,house}/**/*.test.ts'],
    setupFiles: ['tests/support/seed.ts'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    pool: 'forks',
    maxWorkers: 2,
  },
})
