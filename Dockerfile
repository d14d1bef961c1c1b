# syntax=docker/dockerfile:1
# One image for the API, the worker and the commands. Built in two steps; the last holds no compiler and runs as a plain user.

FROM node:20.20-bookworm-slim AS build
WORKDIR /app
COPY package.json package-lock.json ./
RUN npm ci --no-audit --no-fund --ignore-scripts
COPY . .
RUN node apps/cli/bootstrap/build-image.mjs && npm prune --omit=dev --no-audit --no-fund --ignore-scripts

FROM node:20.20-bookworm-slim AS run
ENV NODE_ENV=production TZ=UTC HOST=0.0.0.0 PORT=8080 DRYSPELL_FILES_DIR=/var/lib/dryspell/files
WORKDIR /app
RUN groupadd --system --gid 10001 dryspell \
    && useradd --system --uid 10001 --gid dryspell --home-dir /nonexistent --shell /usr/sbin/nologin dryspell \
    && install --directory --owner=dryspell --group=dryspell --mode=0700 /var/lib/dryspell /var/lib/dryspell/files
COPY --from=build /app/package.json ./
COPY --from=build /app/node_modules ./node_modules
COPY --from=build /app/dist ./dist
COPY --from=build /app/prisma ./prisma
USER dryspell
EXPOSE 8080
CMD ["node", "--enable-source-maps", "dist/apps/api/src/main.js"]
