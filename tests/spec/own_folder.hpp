// Tests that read files beside an engine file.
#pragma once
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <string>

namespace eyebrow::testing {

/// In a folder of its own: each test may run beside the others.
class InOwnFolder : public ::testing::Test {
 protected:
  explicit InOwnFolder(const std::string& name)
      : folder_(std::filesystem::temp_directory_path() / ("eyebrow_" + name + "_" + std::to_string(getpid()))) {}
  void SetUp() override {
    std::filesystem::create_directory(folder_);
    std::filesystem::current_path(folder_);
  }
  void TearDown() override {
    std::filesystem::current_path(before_);
    std::filesystem::remove_all(folder_);
  }

 private:
  std::filesystem::path before_ = std::filesystem::current_path(), folder_;
};

}  // namespace eyebrow::testing
