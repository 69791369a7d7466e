interface KeptPhotoProps {
  /** Address of the route that serves it to whoever may see its return. */
  readonly src: string;
  readonly alt: string;
  readonly className: string;
}

/** A photograph kept with a return. */
export function KeptPhoto({ src, alt, className }: KeptPhotoProps) {
  return (
    // biome-ignore lint/performance/noImgElement: served only to its own people, so no cache may optimise it
    <img src={src} alt={alt} loading="lazy" className={`w-full object-contain ${className}`} />
  );
}
