import { takePhoto } from "@/app/_photos/take-photo";

interface PhotosRoute {
  readonly params: Promise<{ readonly reference: string }>;
}

export async function POST(request: Request, { params }: PhotosRoute): Promise<Response> {
  const { reference } = await params;
  const page = `/bench/${encodeURIComponent(reference)}`;
  return takePhoto(request, reference, (view) =>
    view === "proof-of-sale" ? `${page}#proof` : `${page}/receiving#photographs`,
  );
}
