#include "print/document.h"

#include <gmock/gmock.h>
#include <turbojpeg.h>

#include <filesystem>
#include <opencv2/core.hpp>
#include <stdexcept>

#include "support/rendered_pdf.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

Document two_pages() {
  Document document({"Two pages", "The author", "A subject", "2026-02-03T04:05:06Z"});
  document.add_page(kA4).text({20, 20}, "Thickness 22.12 ± 0.05 mm, σ ≤ 0.1 µm", {11});
  Page& second = document.add_page(kLetter.landscape());
  second.text({20, 20}, "The second page", {11, Weight::bold});
  second.fill_circle({50, 50}, 10, grey(0.5));
  return document;
}

std::string saved(const Document& document, const TemporaryFolder& folder) {
  const std::filesystem::path path = folder.path() / "document.pdf";
  document.save_pdf(path);
  return path.string();
}

TEST(Document, PdfHasItsPagesAndMetadata) {
  const TemporaryFolder folder;
  const std::string path = saved(two_pages(), folder);
  const std::string info = run_program({"pdfinfo", "-isodates", "-f", "1", "-l", "2", path}).output;
  EXPECT_THAT(info, HasSubstr("Pages:           2"));
  EXPECT_THAT(info, HasSubstr("Page    1 size:  595.276 x 841.89 pts (A4)"));
  EXPECT_THAT(info, HasSubstr("Page    2 size:  792 x 612 pts (letter)"));
  EXPECT_THAT(info, HasSubstr("Title:           Two pages"));
  EXPECT_THAT(info, HasSubstr("Author:          The author"));
  EXPECT_THAT(info, HasSubstr("Subject:         A subject"));
  EXPECT_THAT(info, HasSubstr("CreationDate:    2026-02-03T04:05:06Z"));
  EXPECT_THAT(info, Not(HasSubstr("ModDate")));
}

TEST(Document, PdfTextCanBeSearchedAndItsFontsAreInside) {
  const TemporaryFolder folder;
  const std::string path = saved(two_pages(), folder);
  const std::string text = run_program({"pdftotext", path, "-"}).output;
  EXPECT_THAT(text, HasSubstr("Thickness 22.12 ± 0.05 mm, σ ≤ 0.1 µm"));
  EXPECT_THAT(text, HasSubstr("The second page"));
  const std::string fonts = run_program({"pdffonts", path}).output;
  EXPECT_THAT(fonts, HasSubstr("yes yes yes")) << "embedded, subset, with a Unicode map";
  EXPECT_THAT(fonts, Not(HasSubstr(" no "))) << fonts;
}

TEST(Document, PdfIsTheSameEveryTime) {
  EXPECT_EQ(two_pages().pdf(), two_pages().pdf());
}

TEST(Document, PngIsAPng) {
  const std::string png = two_pages().png(1, 72);
  EXPECT_EQ(png.substr(0, 8), "\x89PNG\r\n\x1a\n");
}

/// A JPEG of noise, which no other encoder would write byte for byte alike.
std::string noise_jpeg(const cv::Mat& rgb) {
  tjhandle handle = tjInitCompress();
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  EXPECT_EQ(tjCompress2(handle, rgb.data, rgb.cols, static_cast<int>(rgb.step), rgb.rows, TJPF_RGB,
                        &bytes, &size, TJSAMP_444, 90, 0),
            0);
  std::string result(reinterpret_cast<char*>(bytes), size);
  tjFree(bytes);
  tjDestroy(handle);
  return result;
}

TEST(Document, PdfHoldsAJpegAsItWas) {
  cv::Mat noise(64, 96, CV_8UC3);
  cv::RNG random(7);
  random.fill(noise, cv::RNG::UNIFORM, 0, 256);
  const std::string jpeg = noise_jpeg(noise);
  Document document({"Picture", "", ""});
  document.add_page(kA4).picture({20, 30, 96, 64}, noise, jpeg);
  EXPECT_NE(document.pdf().find(jpeg), std::string::npos);

  // The picture must lie where it was put, in the PDF as on the screen: 2 px/mm.
  const TemporaryFolder folder;
  cv::Mat seen;
  cv::transform(document.picture(0, 50.8), seen, cv::Matx13f(0.30f, 0.59f, 0.11f));
  for (const cv::Mat& page : {seen, rendered_pdf(saved(document, folder), 1, 50.8)}) {
    EXPECT_NEAR(cv::mean(page(cv::Rect(42, 62, 188, 124)))[0], 127, 5);
    EXPECT_GT(cv::mean(page(cv::Rect(0, 0, 420, 58)))[0], 254.9);
    EXPECT_GT(cv::mean(page(cv::Rect(0, 60, 38, 128)))[0], 254.9);
    EXPECT_GT(cv::mean(page(cv::Rect(234, 60, 186, 128)))[0], 254.9);
    EXPECT_GT(cv::mean(page(cv::Rect(0, 190, 420, 400)))[0], 254.9);
  }
}

TEST(Document, RefusesToWriteNothing) {
  const Document empty({"Empty", "", ""});
  EXPECT_THROW(empty.pdf(), std::runtime_error);
  EXPECT_THROW(empty.picture(0, 72), std::out_of_range);
}

TEST(Document, RefusesASenselessResolution) {
  const Document document = two_pages();
  EXPECT_THROW(document.picture(0, 0), std::invalid_argument);
  EXPECT_THROW(document.picture(0, -72), std::invalid_argument);
  EXPECT_THROW(document.picture(0, 1e6), std::invalid_argument);
}

}  // namespace
}  // namespace scantling
