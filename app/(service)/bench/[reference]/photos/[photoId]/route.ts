import { showPhoto } from "@/app/_photos/show-photo";

interface PhotoRoute {
  readonly params: Promise<{ readonly photoId: string }>;
}

export async function GET(_request: Request, { params }: PhotoRoute): Promise<Response> {
  return showPhoto((await params).photoId);
}
